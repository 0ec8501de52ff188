package org.shiftstand.stats;

import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Ranges of normal samples in units of their standard deviation, for samples of any size.
 *
 * <p>By integration of the range's distribution (Tippett 1925) rather than from a printed table. Absolute error below 1e-8
 * for n up to 1000.
 */
public final class MeanRange {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    /** Beyond this a normal value comes once in 1e27. */
    private static final double REACH = 11;

    private static final int PIECES = 24;

    private MeanRange() {}

    /**
     * d2: mean range of n values, ∫ 1 − Φⁿ − (1 − Φ)ⁿ.
     *
     * @param n 2 or more
     */
    public static double d2(int n) {
        check(n);
        return GaussLegendre.integral(x -> 1 - Math.pow(below(x), n) - Math.pow(below(-x), n), -REACH, REACH, PIECES);
    }

    /**
     * d2*: root mean square of the mean of g ranges, √(d2² + d3² / g) (Duncan 1974, appendix).
     *
     * @param n values in each sample, 2 or more
     * @param samples g, 1 or more
     */
    public static double d2Star(int n, int samples) {
        if (samples < 1) {
            throw new IllegalArgumentException("a mean range is of one sample or more: samples=" + samples);
        }
        double mean = d2(n);
        return Math.sqrt(mean * mean + (meanSquare(n) - mean * mean) / samples);
    }

    /** E(R²) = 2 ∫∫ over x below y of 1 − Φ(y)ⁿ − (1 − Φ(x))ⁿ + (Φ(y) − Φ(x))ⁿ. */
    private static double meanSquare(int n) {
        return 2
                * GaussLegendre.integral(
                        y -> GaussLegendre.integral(x -> apart(x, y, n), -REACH, y, PIECES), -REACH, REACH, PIECES);
    }

    /** Chance that the smallest lies below x and the largest above y. */
    private static double apart(double x, double y, int n) {
        return 1 - Math.pow(below(y), n) - Math.pow(below(-x), n) + Math.pow(below(y) - below(x), n);
    }

    private static double below(double x) {
        return NORMAL.cumulativeProbability(x);
    }

    private static void check(int n) {
        if (n < 2 || n > 1000) {
            throw new IllegalArgumentException("a range is of 2 to 1000 values: n=" + n);
        }
    }
}
