package org.shiftstand.cli;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.ClauseResult;

/**
 * How a run looks before it is over. The verdict is only that of the closed record.
 *
 * @param counts shifts by the word of their outcome; homing not counted
 * @param worst the clause that is nearest to its bound, or farthest beyond it; empty where none has a value yet
 */
record Provisional(Map<String, Integer> counts, Optional<Worst> worst) {
    /**
     * A clause, against its bound.
     *
     * @param value with its unit, as people read it
     * @param margin as a share of the bound, of half the width of one with two ends; negative outside
     */
    record Worst(String clause, String value, double margin) {
        @Override
        public String toString() {
            return String.format(
                    Locale.ROOT,
                    "%s, %s, %.0f %% %s",
                    clause,
                    value,
                    Math.abs(margin) * 100,
                    margin < 0 ? "outside" : "inside");
        }
    }

    static Provisional of(Judgement judgement) {
        return new Provisional(counts(judgement.table().shifts()), worst(judgement.clauses()));
    }

    private static Map<String, Integer> counts(List<Shift> shifts) {
        Map<String, Integer> counts = new LinkedHashMap<>();
        for (Outcome outcome : Outcome.values()) {
            int n = (int) shifts.stream()
                    .filter(shift -> shift.cycle() > 0 && shift.outcome() == outcome)
                    .count();
            if (n > 0) {
                counts.put(outcome.word(), n);
            }
        }
        return counts;
    }

    static Optional<Worst> worst(List<ClauseResult> clauses) {
        return clauses.stream()
                .flatMap(clause -> relative(clause).stream())
                .min(java.util.Comparator.comparingDouble(Worst::margin));
    }

    private static Optional<Worst> relative(ClauseResult clause) {
        if (clause.margin().isEmpty() || clause.value().isEmpty()) {
            return Optional.empty();
        }
        double margin = clause.margin().getAsDouble();
        double size = size(clause.clause().bound()) / clause.unit().inBase();
        // against a bound of 0, such as no shift that does not land, there is only beyond or not
        if (size == 0 && margin >= 0) {
            return Optional.empty();
        }
        String value = (Summary.number(clause.value().getAsDouble()) + " "
                        + clause.unit().symbol())
                .strip();
        return Optional.of(new Worst(clause.clause().id(), value, size == 0 ? -1 : margin / size));
    }

    private static double size(Bound bound) {
        OptionalDouble low = bound.atLeast();
        OptionalDouble high = bound.atMost();
        return low.isPresent() && high.isPresent()
                ? (high.getAsDouble() - low.getAsDouble()) / 2
                : Math.abs(low.isPresent() ? low.getAsDouble() : high.orElse(0));
    }

    /** {@code provisional: 410 landed, 2 missed; worst clause travel-time, 231 ms, 23 % inside}. */
    @Override
    public String toString() {
        String outcomes = counts.isEmpty()
                ? "no shift yet"
                : counts.entrySet().stream()
                        .map(count -> count.getValue() + " " + count.getKey())
                        .collect(Collectors.joining(", "));
        return "provisional: " + outcomes
                + worst.map(w -> "; worst clause " + w).orElse("");
    }
}
