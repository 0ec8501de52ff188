package org.shiftstand.spec;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * One group of one clause, judged. Values in the unit of {@link ClauseResult#unit()}.
 *
 * @param key ordered names and values, such as {@code sprocket → 4, direction → inboard}; empty for the whole run
 * @param n measured shifts
 * @param value the statistic; empty where it cannot be had
 * @param margin distance inside the bound, negative outside; empty without a value
 * @param reason why, in words
 * @param shifts numbers of the shifts that broke the bound, or for estimators of all that were used when failing
 */
public record GroupResult(
        Map<String, String> key,
        int n,
        int notMeasured,
        int notApplicable,
        OptionalDouble value,
        OptionalDouble margin,
        Verdict verdict,
        String reason,
        List<Integer> shifts) {}
