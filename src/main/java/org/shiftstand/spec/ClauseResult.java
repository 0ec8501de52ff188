package org.shiftstand.spec;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
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

    /** The group that value and margin belong to; where there is no value, the one of the clause's verdict with the least margin. */
    public Optional<GroupResult> worst() {
        return groups.stream()
                .filter(group -> group.margin().isPresent() && group.margin().equals(margin))
                .filter(group -> group.value().equals(value))
                .findFirst()
                .or(() -> groups.stream()
                        .filter(group -> group.verdict() == verdict)
                        .min(Comparator.comparingDouble(group -> group.margin().orElse(Double.NEGATIVE_INFINITY))));
    }
}
