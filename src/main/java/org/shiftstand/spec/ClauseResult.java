package org.shiftstand.spec;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;

/**
 * One clause, judged.
 *
 * @param value statistic of the worst group, in {@code unit}; empty where none
 * @param margin of the worst group, in {@code unit}
 * @param unit the unit that values and bounds are given in: the one the author wrote
 */
public record ClauseResult(
        Clause clause,
        Verdict verdict,
        String reason,
        Unit unit,
        OptionalDouble value,
        OptionalDouble margin,
        List<GroupResult> groups) {}
