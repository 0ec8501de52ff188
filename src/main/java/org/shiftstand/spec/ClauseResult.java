package org.shiftstand.spec;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;

/**
 * One clause, judged.
 *
 * @param reason the worst group in words, ready to follow the clause's id
 * @param value statistic of the worst group, in {@code unit}; empty where none
 * @param margin of the worst group, in {@code unit}
 * @param unit the unit that values and bounds are given in: the one the author wrote
 * @param remarks what a reader must know to weigh the verdict, such as an origin that is aligned, not measured
 */
public record ClauseResult(
        Clause clause,
        Verdict verdict,
        String reason,
        Unit unit,
        OptionalDouble value,
        OptionalDouble margin,
        List<GroupResult> groups,
        List<String> remarks) {
    public ClauseResult {
        groups = List.copyOf(groups);
        remarks = List.copyOf(remarks);
    }

    /** A clause without remarks. */
    public ClauseResult(
            Clause clause,
            Verdict verdict,
            String reason,
            Unit unit,
            OptionalDouble value,
            OptionalDouble margin,
            List<GroupResult> groups) {
        this(clause, verdict, reason, unit, value, margin, groups, List.of());
    }
}
