package org.shiftstand.stats;

import java.util.function.DoubleUnaryOperator;
import org.apache.commons.math3.analysis.solvers.BrentSolver;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.special.Gamma;

/**
 * Factors k of tolerance intervals: mean ± k·s holds a stated share of a normal population with a stated confidence; and
 * the same from order statistics, whatever the population.
 *
 * <p>Source: NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3; W. G. Howe, J. Am. Stat. Assoc. 64, 610–620, 1969.
 * Exact factors by numerical integration over the error of the mean, relative error below 1e-8 for n from 2 to 100,000.
 *
 * <p>Where the spread comes from elsewhere than the mean (pooled over several groups, or made up of parts), a mean that is
 * worth n values goes with a standard deviation of ν degrees of freedom, independent of it: Weissberg and Beatty, Technometrics
 * 2, 483–500, 1960; ISO 16269-6:2014, annex for several populations of common variance. The usual case is ν = n − 1.
 */
public final class ToleranceFactor {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    /** Beyond so many standard errors of the mean lies less than 1e-15. */
    private static final double REACH = 8.3;

    private static final int PIECES = 6;

    private ToleranceFactor() {}

    /**
     * Two-sided, exact: the k at which P(Φ(x̄ + k s) − Φ(x̄ − k s) ≥ coverage) = confidence.
     *
     * @param n at least 2
     * @param coverage between 0 and 1
     * @param confidence between 0 and 1
     */
    public static double twoSided(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        return twoSided(n, n - 1.0, coverage, confidence);
    }

    /**
     * Two-sided, exact, with a spread of its own degrees of freedom.
     *
     * @param worth how many values the mean is worth, n: its variance is that of a value over n; above 0, need not be whole
     * @param freedom degrees of freedom ν of the standard deviation, above 0, need not be whole
     */
    public static double twoSided(double worth, double freedom, double coverage, double confidence) {
        check(worth, freedom, coverage, confidence);
        // half-widths r(z) of which the coverage is exact though the mean is off by z standard errors: free of k
        Grid grid = Grid.of(0, REACH, z -> {
            double r = halfWidth(z / Math.sqrt(worth), coverage);
            return freedom * r * r;
        });
        double chiSquared = Quantile.chiSquared(freedom, 1 - confidence);
        double z = NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
        return root(
                k -> 2 * grid.expected(needed -> Gamma.regularizedGammaQ(freedom / 2, needed / (k * k) / 2)),
                confidence,
                z * Math.sqrt(freedom * (1 + 1 / worth) / chiSquared)); // Howe
    }

    /** Half-width r of an interval about m that holds the coverage: Φ(m + r) − Φ(m − r). */
    private static double halfWidth(double m, double coverage) {
        double r = m + NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
        for (int i = 0; i < 100; i++) {
            double off = NORMAL.cumulativeProbability(m + r) - NORMAL.cumulativeProbability(m - r) - coverage;
            double slope = NORMAL.density(m + r) + NORMAL.density(m - r);
            double step = off / slope;
            r -= step;
            if (Math.abs(step) <= 1e-14 * r) {
                break;
            }
        }
        return r;
    }

    /**
     * Two-sided, Howe's approximation: z √(ν (1 + 1/n)/χ²). It errs on either side: at n = 5, 95 %, 95 % it gives 5.0935 for
     * 5.0769.
     */
    public static double howe(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        double z = NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
        double chiSquared = Quantile.chiSquared(n - 1.0, 1 - confidence);
        return z * Math.sqrt((n - 1.0) * (1 + 1.0 / n) / chiSquared);
    }

    /**
     * One-sided, exact: the k at which P(x̄ + k s ≥ z) = confidence; the quantile of a noncentral t over √n. Below 0 where the
     * confidence is small.
     */
    public static double oneSided(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        return oneSided(n, n - 1.0, coverage, confidence);
    }

    /** One-sided, exact, with a spread of its own degrees of freedom; arguments as of the two-sided one. */
    public static double oneSided(double worth, double freedom, double coverage, double confidence) {
        check(worth, freedom, coverage, confidence);
        double quantile = NORMAL.inverseCumulativeProbability(coverage);
        double root = Math.sqrt(worth);
        double kink = Math.max(-REACH, Math.min(REACH, -quantile * root)); // there the bound on s changes sign
        Grid below = Grid.of(-REACH, kink, z -> quantile + z / root);
        Grid above = Grid.of(kink, REACH, z -> quantile + z / root);
        return root(
                k -> {
                    DoubleUnaryOperator enough = a -> chance(freedom, a, k);
                    return below.expected(enough) + above.expected(enough);
                },
                confidence,
                quantile + NORMAL.inverseCumulativeProbability(confidence) / root);
    }

    /** P(k s ≥ a) for a standard deviation s of a standard normal sample. */
    private static double chance(double freedom, double a, double k) {
        if (k == 0) {
            return a <= 0 ? 1 : 0;
        }
        double half = freedom * (a / k) * (a / k) / 2;
        if (k > 0) {
            return a <= 0 ? 1 : Gamma.regularizedGammaQ(freedom / 2, half);
        }
        return a >= 0 ? 0 : Gamma.regularizedGammaP(freedom / 2, half);
    }

    /** One-sided by Natrella (Experimental Statistics, 1963): an approximation; NaN where it has no root. */
    public static double natrella(int n, double coverage, double confidence) {
        check(n, coverage, confidence);
        double zp = NORMAL.inverseCumulativeProbability(coverage);
        double zc = NORMAL.inverseCumulativeProbability(confidence);
        double a = 1 - zc * zc / (2 * (n - 1.0));
        double b = zp * zp - zc * zc / n;
        return (zp + Math.sqrt(zp * zp - a * b)) / a;
    }

    /**
     * How many values it takes so that the range from the least to the greatest holds the coverage with this confidence,
     * whatever the distribution: the least n with 1 − n pⁿ⁻¹ + (n − 1) pⁿ ≥ confidence (Wilks, Ann. Math. Stat. 12, 1941).
     */
    public static int valuesForRange(double coverage, double confidence) {
        check(2, coverage, confidence);
        int n = 2;
        while (1 - n * Math.pow(coverage, n - 1.0) + (n - 1) * Math.pow(coverage, n) < confidence) {
            n++;
        }
        return n;
    }

    /** How many values it takes so that the greatest is above the coverage's share: the least n with 1 − pⁿ ≥ confidence. */
    public static int valuesForOneSide(double coverage, double confidence) {
        return SuccessRun.trials(coverage, confidence, 0);
    }

    /** Where a rising function of k reaches the confidence. */
    private static double root(DoubleUnaryOperator rising, double confidence, double guess) {
        double step = Math.max(0.1, Math.abs(guess) / 20);
        double low = guess - step;
        double high = guess + step;
        while (rising.applyAsDouble(low) > confidence) {
            high = low;
            step *= 2;
            low -= step;
        }
        while (rising.applyAsDouble(high) < confidence) {
            low = high;
            step *= 2;
            high += step;
        }
        return new BrentSolver(1e-13, 1e-12, 1e-15).solve(100, k -> rising.applyAsDouble(k) - confidence, low, high);
    }

    static void check(int n, double coverage, double confidence) {
        if (n < 2 || !(coverage > 0 && coverage < 1) || !(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("two values or more, coverage and confidence between 0 and 1: n=" + n
                    + ", coverage=" + coverage + ", confidence=" + confidence);
        }
    }

    private static void check(double worth, double freedom, double coverage, double confidence) {
        if (!(worth > 0 && freedom > 0)) {
            throw new IllegalArgumentException(
                    "a mean and a spread of something: worth=" + worth + ", freedom=" + freedom);
        }
        check(2, coverage, confidence);
    }

    /** Places over a normal error of the mean with their weights, and what was worked out there once for all k. */
    private record Grid(double[] values, double[] weights) {
        static Grid of(double from, double to, DoubleUnaryOperator value) {
            GaussLegendre.Points points = GaussLegendre.points(from, to, PIECES);
            double[] values = new double[points.at().length];
            double[] weights = new double[values.length];
            for (int i = 0; i < values.length; i++) {
                values[i] = value.applyAsDouble(points.at()[i]);
                weights[i] = points.weights()[i] * NORMAL.density(points.at()[i]);
            }
            return new Grid(values, weights);
        }

        double expected(DoubleUnaryOperator function) {
            double sum = 0;
            for (int i = 0; i < values.length; i++) {
                sum += weights[i] * function.applyAsDouble(values[i]);
            }
            return sum;
        }
    }
}
