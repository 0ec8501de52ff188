package org.shiftstand.report;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.spec.ClauseResult;
import org.shiftstand.spec.GroupResult;
import org.shiftstand.spec.Verdict;

/** The clause table: one row for each clause, in the order of the spec. */
final class ClauseRows {
    private ClauseRows() {}

    /** @param failed and open: how many of each are shown in detail */
    static List<Sheet.ClauseRow> of(List<ClauseResult> results, int failed, int open) {
        List<Sheet.ClauseRow> rows = new ArrayList<>();
        Map<Verdict, Integer> left =
                new EnumMap<>(Map.of(Verdict.PASS, 0, Verdict.FAIL, failed, Verdict.NO_VERDICT, open));
        for (int i = 0; i < results.size(); i++) {
            boolean detailed = left.merge(results.get(i).verdict(), -1, Integer::sum) >= 0;
            rows.add(row(results.get(i), i + 1, detailed ? "#" + Cases.anchor(i) : ""));
        }
        return rows;
    }

    /** Where the clause at this place of the spec stands in the table. */
    static String href(int index) {
        return "#clause-" + (index + 1);
    }

    private static Sheet.ClauseRow row(ClauseResult result, int place, String detail) {
        Optional<GroupResult> worst = result.worst();
        return new Sheet.ClauseRow(
                "clause-" + place,
                detail,
                Mark.symbol(result.verdict(), 20),
                Mark.word(result.verdict()),
                tone(result.verdict()),
                result.clause().id(),
                Words.subject(result.clause()),
                result.clause().because(),
                Words.bound(result.clause().bound(), result.unit()),
                value(result, result.value(), result.margin()),
                margin(result, result.margin()),
                worst.map(Words::group).orElse(Figures.NONE),
                ClauseGauge.draw(result, "gauge-" + place),
                groups(result),
                counts(result),
                Certainty.of(result),
                result.remarks());
    }

    static String tone(Verdict verdict) {
        return verdict.word();
    }

    static String value(ClauseResult result, OptionalDouble value, OptionalDouble margin) {
        if (value.isEmpty()) {
            return Figures.NONE;
        }
        boolean counted = result.clause().measure().isEmpty() && value.getAsDouble() == Math.rint(value.getAsDouble());
        int decimals = counted ? 0 : Figures.decimals(result.unit(), margin.orElse(0));
        return Figures.of(value.getAsDouble(), result.unit(), decimals);
    }

    static String margin(ClauseResult result, OptionalDouble margin) {
        if (margin.isEmpty()) {
            return Figures.NONE;
        }
        double m = margin.getAsDouble();
        boolean counted = result.clause().measure().isEmpty() && m == Math.rint(m);
        return (m > 0 ? "+" : "") + Figures.of(m, result.unit(), counted ? 0 : Figures.decimals(result.unit(), m));
    }

    private static String groups(ClauseResult result) {
        List<String> parts = new ArrayList<>();
        for (Verdict verdict : List.of(Verdict.FAIL, Verdict.NO_VERDICT, Verdict.PASS)) {
            long n =
                    result.groups().stream().filter(g -> g.verdict() == verdict).count();
            if (n > 0) {
                parts.add(n + Figures.NO_BREAK + Mark.word(verdict));
            }
        }
        int all = result.groups().size();
        return all == 0 ? "no group" : all == 1 ? "1 group" : all + " groups: " + String.join(", ", parts);
    }

    private static String counts(ClauseResult result) {
        List<String> parts = new ArrayList<>();
        parts.add(sum(result, GroupResult::n) + " measured");
        part(parts, sum(result, GroupResult::notMeasured), "not measured");
        part(parts, sum(result, GroupResult::notMade), "not made");
        part(parts, sum(result, GroupResult::notApplicable), "not applicable");
        part(parts, sum(result, GroupResult::displaced), "displaced");
        return String.join(", ", parts);
    }

    private static void part(List<String> parts, long n, String what) {
        if (n > 0) {
            parts.add(n + " " + what);
        }
    }

    private static long sum(ClauseResult result, java.util.function.ToIntFunction<GroupResult> count) {
        return result.groups().stream().mapToLong(count::applyAsInt).sum();
    }
}
