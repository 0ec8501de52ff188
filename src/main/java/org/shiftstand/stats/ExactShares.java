package org.shiftstand.stats;

import org.apache.commons.math3.distribution.HypergeometricDistribution;

/**
 * Two shares: hits out of trials, on either side.
 *
 * @param hitsA 0…trialsA
 * @param trialsA one or more
 * @param hitsB 0…trialsB
 * @param trialsB one or more
 */
public record ExactShares(int hitsA, int trialsA, int hitsB, int trialsB) {
    /** Tables as likely as the one seen, but for rounding. */
    private static final double SLACK = 1 + 1e-9;

    public ExactShares {
        if (hitsA < 0 || hitsA > trialsA || trialsA < 1 || hitsB < 0 || hitsB > trialsB || trialsB < 1) {
            throw new IllegalArgumentException("hits lie in 0…trials: hitsA=" + hitsA + ", trialsA=" + trialsA
                    + ", hitsB=" + hitsB + ", trialsB=" + trialsB);
        }
    }

    /** Of shares that are the same: Fisher's exact test, two-sided, over all tables not likelier than the one seen. */
    public double pOfNoDifference() {
        int all = trialsA + trialsB;
        int hits = hitsA + hitsB;
        HypergeometricDistribution tables = new HypergeometricDistribution(null, all, hits, trialsA);
        double seen = tables.probability(hitsA);
        double sum = 0;
        for (int k = tables.getSupportLowerBound(); k <= tables.getSupportUpperBound(); k++) {
            double chance = tables.probability(k);
            sum += chance <= seen * SLACK ? chance : 0;
        }
        return Math.min(1, sum);
    }

    /**
     * Of the difference b − a, each limit one-sided at this confidence or more: exact limits of each share (Clopper and
     * Pearson) that together are wrong at most as often. Conservative; with no miss in n on both sides it is as wide as
     * one side's limit at half the error.
     */
    public ConfidenceLimits.Limits limits(double confidence) {
        double each = 1 - (1 - confidence) / 2;
        ConfidenceLimits.Limits a = ConfidenceLimits.proportion(hitsA, trialsA, each);
        ConfidenceLimits.Limits b = ConfidenceLimits.proportion(hitsB, trialsB, each);
        return new ConfidenceLimits.Limits(b.low() - a.high(), b.high() - a.low());
    }

    /** b − a. */
    public double difference() {
        return (double) hitsB / trialsB - (double) hitsA / trialsA;
    }

    /** The same with so many times the values. */
    public ExactShares times(double more) {
        int a = (int) Math.ceil(trialsA * more);
        int b = (int) Math.ceil(trialsB * more);
        return new ExactShares(
                (int) Math.min(a, Math.round((double) a * hitsA / trialsA)),
                a,
                (int) Math.min(b, Math.round((double) b * hitsB / trialsB)),
                b);
    }
}
