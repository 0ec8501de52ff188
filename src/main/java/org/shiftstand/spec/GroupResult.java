package org.shiftstand.spec;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * One group of one clause, judged. Values in the unit of {@link ClauseResult#unit()}.
 *
 * @param key ordered names and values, such as {@code sprocket → 4, direction → inboard}; empty for the whole run
 * @param n measured shifts; for a clause on outcomes those whose outcome is known
 * @param notMeasured shifts that should have a value and have none; for a clause on outcomes the unknown ones
 * @param notApplicable shifts for which the measure does not exist by definition; outside the selection
 * @param displaced shifts that did not start on their sprocket and are left out of landing and overtravel groups
 * @param notMade planned shifts that the run did not reach; they weigh as not measured
 * @param value the statistic; empty where it cannot be had
 * @param margin distance inside the bound, negative outside; empty without a value
 * @param assessment how sure the value is, and what its verdict risks
 * @param reason why, in words
 * @param shifts numbers of the shifts that broke the bound, or for estimators of all that were used when failing
 */
public record GroupResult(
        Map<String, String> key,
        int n,
        int notMeasured,
        int notApplicable,
        int displaced,
        int notMade,
        OptionalDouble value,
        OptionalDouble margin,
        Assessment assessment,
        Verdict verdict,
        String reason,
        List<Integer> shifts) {
    public GroupResult {
        key = Collections.unmodifiableMap(new LinkedHashMap<>(key)); // keeps the order of per
        shifts = List.copyOf(shifts);
    }

    /** The same shifts and value, judged otherwise. */
    GroupResult with(Assessment other, Verdict turned, String why) {
        return new GroupResult(
                key,
                n,
                notMeasured,
                notApplicable,
                displaced,
                notMade,
                value,
                margin,
                other,
                turned,
                why,
                turned == Verdict.FAIL ? shifts : List.of());
    }

    /** A group without displaced or missing shifts, of whose value no more is known. */
    public GroupResult(
            Map<String, String> key,
            int n,
            int notMeasured,
            int notApplicable,
            OptionalDouble value,
            OptionalDouble margin,
            Verdict verdict,
            String reason,
            List<Integer> shifts) {
        this(key, n, notMeasured, notApplicable, 0, 0, value, margin, Assessment.NONE, verdict, reason, shifts);
    }
}
