package org.shiftstand.learn.compare;

import java.util.OptionalDouble;
import org.shiftstand.stats.ConfidenceLimits;
import org.shiftstand.stats.ExactShares;

/** Two shares, exactly: Fisher's test of no difference, and limits of the difference that hold at least as often as they say. */
final class SharesTest {
    private SharesTest() {}

    static Tested test(ExactShares shares, OptionalDouble margin, double confidence) {
        ConfidenceLimits.Limits limits = shares.limits(confidence);
        return new Tested(
                (double) shares.hitsA() / shares.trialsA(),
                (double) shares.hitsB() / shares.trialsB(),
                shares.difference(),
                limits.low(),
                limits.high(),
                margin.isPresent() ? OptionalDouble.of(outside(shares, margin.getAsDouble())) : margin,
                shares.pOfNoDifference(),
                1,
                margin.isPresent() ? OptionalDouble.of(power(shares, 1, margin.getAsDouble(), confidence)) : margin,
                more -> power(shares, more, margin.orElse(1), confidence));
    }

    private static double outside(ExactShares shares, double margin) {
        double below = 1e-9;
        double above = 1 - 1e-9;
        while (above - below > 1e-9) {
            double p = (below + above) / 2;
            ConfidenceLimits.Limits limits = shares.limits(1 - p);
            if (limits.low() > -margin && limits.high() < margin) {
                above = p;
            } else {
                below = p;
            }
        }
        return above;
    }

    /** Where both shares are the base's, rounded: whether this many shifts could show it at all; 1 or 0, no chance between. */
    private static double power(ExactShares shares, double more, double margin, double confidence) {
        ExactShares alike = new ExactShares(
                        shares.hitsA(),
                        shares.trialsA(),
                        (int) Math.round((double) shares.hitsA() * shares.trialsB() / shares.trialsA()),
                        shares.trialsB())
                .times(more);
        ConfidenceLimits.Limits limits = alike.limits(confidence);
        return limits.low() > -margin && limits.high() < margin ? 1 : 0;
    }
}
