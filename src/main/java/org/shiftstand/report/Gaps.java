package org.shiftstand.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;

/** What was not measured, by reason, and what does not apply, by measure. */
final class Gaps {
    private static final int MOST_REASONS = 40;
    private static final int MOST_RUNS = 12;

    private final Map<String, Reason> reasons = new TreeMap<>();
    private final Map<Measure, Integer> notApplicable = new EnumMap<>(Measure.class);

    Gaps(List<Shift> shifts) {
        for (Shift shift : shifts) {
            shift.measures()
                    .forEach((measure, measured) -> measured.match(new Measured.Cases<Boolean>() {
                        @Override
                        public Boolean value(double value) {
                            return true;
                        }

                        @Override
                        public Boolean notMeasured(String reason) {
                            reasons.computeIfAbsent(reason, r -> new Reason()).add(measure, shift.number());
                            return false;
                        }

                        @Override
                        public Boolean notApplicable() {
                            notApplicable.merge(measure, 1, Integer::sum);
                            return false;
                        }
                    }));
        }
    }

    /** The most frequent reason first. */
    List<Sheet.Missing> missing() {
        return reasons.entrySet().stream()
                .sorted(Comparator.comparingInt((Map.Entry<String, Reason> e) ->
                                -e.getValue().shifts.size())
                        .thenComparing(Map.Entry::getKey))
                .limit(MOST_REASONS)
                .map(e -> e.getValue().row(e.getKey()))
                .toList();
    }

    String intro() {
        if (reasons.isEmpty()) {
            return "Every measure of every shift has its number, or does not apply.";
        }
        return reasons.size() <= MOST_REASONS
                ? "Each gap has its reason; none was filled or dropped."
                : "The " + MOST_REASONS + " most frequent of " + reasons.size()
                        + " reasons; all are in the notes of shifts.csv.";
    }

    List<Sheet.Counted> notApplicable() {
        List<Sheet.Counted> rows = new ArrayList<>();
        notApplicable.forEach((measure, n) ->
                rows.add(new Sheet.Counted(Words.spaced(measure.key()), Figures.count(n, "shift"), "")));
        return rows;
    }

    /** The shifts and measures that one reason took. */
    private static final class Reason {
        private final Map<Measure, Integer> measures = new EnumMap<>(Measure.class);
        private final TreeSet<Integer> shifts = new TreeSet<>();

        void add(Measure measure, int shift) {
            measures.merge(measure, 1, Integer::sum);
            shifts.add(shift);
        }

        Sheet.Missing row(String reason) {
            List<String> words = new ArrayList<>();
            measures.forEach((measure, n) ->
                    words.add(Words.spaced(measure.key()) + (n == shifts.size() ? "" : " (" + n + ")")));
            return new Sheet.Missing(
                    reason,
                    String.join(", ", words),
                    Integer.toString(shifts.size()),
                    Figures.runs(List.copyOf(shifts), MOST_RUNS));
        }
    }
}
