package org.shiftstand.stats;

import org.apache.commons.math3.distribution.BetaDistribution;

/**
 * How many trials prove what: the binomial demonstration of reliability; without failures the success-run theorem, C = 1 −
 * Rⁿ. (A Bayesian variant with n + 1 in the exponent gives one trial less.)
 */
public final class SuccessRun {
    private static final int MOST = 100_000_000;

    private SuccessRun() {}

    /**
     * The least number of trials of which so many may fail and the reliability is still shown with this confidence.
     *
     * @param reliability between 0 and 1
     * @param confidence between 0 and 1
     * @param failures allowed; 0 or more
     */
    public static int trials(double reliability, double confidence, int failures) {
        check(reliability, confidence, failures);
        int low = failures; // never enough: all failed
        int high = Math.max(1, 2 * failures + 1);
        while (shown(high, failures, reliability) < confidence) {
            low = high;
            if (high > MOST / 2) {
                throw new IllegalArgumentException(
                        "more than " + MOST + " trials: reliability=" + reliability + ", confidence=" + confidence);
            }
            high *= 2;
        }
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            if (shown(middle, failures, reliability) >= confidence) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return high;
    }

    /** The confidence with which so many trials with so many failures show a reliability: P(more failures | reliability). */
    public static double shown(int trials, int failures, double reliability) {
        if (failures >= trials) {
            return 0;
        }
        // the binomial sum through the incomplete beta function
        return failures == 0
                ? -Math.expm1(trials * Math.log(reliability))
                : new BetaDistribution(null, failures + 1.0, trials - failures).cumulativeProbability(1 - reliability);
    }

    /** The reliability that so many trials with so many failures show with this confidence. */
    public static double reliability(int trials, int failures, double confidence) {
        return ConfidenceLimits.proportion(trials - failures, trials, confidence)
                .low();
    }

    private static void check(double reliability, double confidence, int failures) {
        if (!(reliability > 0 && reliability < 1) || !(confidence > 0 && confidence < 1) || failures < 0) {
            throw new IllegalArgumentException(
                    "reliability and confidence between 0 and 1, failures 0 or more: reliability=" + reliability
                            + ", confidence=" + confidence + ", failures=" + failures);
        }
    }
}
