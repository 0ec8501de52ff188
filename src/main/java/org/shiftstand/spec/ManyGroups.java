package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.stats.Holm;

/**
 * Accounts for many groups under claim {@code process}: among forty groups of a good unit some limit is outside by chance, so
 * a group fails only where its p-value, adjusted by Holm (1979) over the clause's groups, is still at most 1 − confidence.
 *
 * <p>Passing needs no correction: all groups must be inside, each at the full confidence.
 */
final class ManyGroups {
    private ManyGroups() {}

    static List<GroupResult> corrected(Clause clause, List<GroupResult> results) {
        double[] raw = results.stream()
                .mapToDouble(group -> group.assessment().pValue().orElse(1))
                .toArray();
        double[] adjusted = Holm.adjusted(raw);
        double alpha = 1 - clause.decision().confidence();
        List<GroupResult> corrected = new ArrayList<>();
        for (int i = 0; i < raw.length; i++) {
            GroupResult group = results.get(i);
            boolean known = group.assessment().pValue().isPresent();
            corrected.add(known ? corrected(group, raw[i], adjusted[i], alpha) : group);
        }
        return corrected;
    }

    private static GroupResult corrected(GroupResult group, double raw, double adjusted, double alpha) {
        Assessment assessment = group.assessment().withPValue(adjusted);
        if (group.verdict() != Verdict.FAIL || adjusted <= alpha) {
            return group.with(assessment, group.verdict(), group.reason());
        }
        String reason = group.reason() + "; outside by itself (p " + plain(raw)
                + "), but not once it is one of many groups (p " + plain(adjusted) + " by Holm)";
        return group.with(
                assessment.withRisks(OptionalDouble.empty(), OptionalDouble.empty()), Verdict.NO_VERDICT, reason);
    }

    /** Two digits, and nothing smaller than what a report needs. */
    private static String plain(double p) {
        return p < 0.0001
                ? "below 0.0001"
                : new java.math.BigDecimal(p)
                        .round(new java.math.MathContext(2))
                        .stripTrailingZeros()
                        .toPlainString();
    }
}
