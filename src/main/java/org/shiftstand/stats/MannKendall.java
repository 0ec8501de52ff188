package org.shiftstand.stats;

import java.util.Arrays;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * The Mann–Kendall test for a monotone trend of values in their order.
 *
 * <p>S counts pairs that rise minus pairs that fall. z = (S ∓ 1) / √(V·f), corrected for continuity, 0 for S = 0;
 * V = (n(n−1)(2n+5) − Σ t(t−1)(2t+5)) / 18 over sets of t alike values. p is two-sided, by the normal distribution; for n
 * below about 10 it is rough. Where all values are alike: S = 0, V = 0, z = 0, p = 1.
 *
 * <p>V holds for values that are independent from one to the next. Values that follow their predecessors give trends
 * too often; f, at least 1, is by how much V grows with them. Sources: H. B. Mann, Econometrica 13, 245–259, 1945; M. G.
 * Kendall, Rank Correlation Methods, 1955; f as in K. H. Hamed, A. R. Rao, J. Hydrology 204, 182–196, 1998.
 *
 * @param n how many values
 * @param s rising pairs − falling pairs
 * @param variance V, of S for independent values, with ties
 * @param inflation f
 * @param z standardised S
 * @param p probability of a |z| as large, without a trend
 * @param tau Kendall's τ-b: S / √(pairs · pairs not alike); 0 where all values are alike
 */
public record MannKendall(int n, long s, double variance, double inflation, double z, double p, double tau) {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);
    /** Two-sided 95 %, the level at which Hamed and Rao take an autocorrelation for real. */
    private static final double REAL = 1.959963984540054;

    /**
     * For values that are independent from one to the next.
     *
     * @param values in their order, finite; not changed
     */
    public static MannKendall of(double... values) {
        Finite.check(values);
        int n = values.length;
        int[] ties = Ordered.ties(values);
        long rising = Ordered.rising(values);
        long alike = Arrays.stream(ties).mapToLong(t -> t * (t - 1L) / 2).sum();
        long pairs = n * (n - 1L) / 2;
        long s = 2 * rising + alike - pairs;
        double tau = s == 0 ? 0 : s / (Math.sqrt(pairs) * Math.sqrt(pairs - alike));
        return tested(n, s, variance(n, ties), 1, tau);
    }

    /**
     * By Hamed and Rao (1998): f from the autocorrelations, at all lags, of the ranks of what the median slope leaves,
     * those that differ from 0 at 5 %. Never below 1 here. With few values little differs from 0, and too many trends
     * are found: measured in {@code src/bench/DRIFT.md}.
     */
    public static MannKendall hamedRao(double... values) {
        MannKendall plain = of(values);
        int n = values.length;
        if (n < 4) {
            return plain;
        }
        double[] ranks = Ordered.ranks(TheilSen.overPlaces(values).residuals());
        double mean = (n + 1) / 2.0;
        double squares = 0;
        for (double rank : ranks) {
            squares += (rank - mean) * (rank - mean);
        }
        double sum = 0;
        for (int lag = 1; lag < n - 2 && squares > 0; lag++) {
            double product = 0;
            for (int i = 0; i + lag < n; i++) {
                product += (ranks[i] - mean) * (ranks[i + lag] - mean);
            }
            double correlation = product / squares;
            if (Math.abs(correlation) > REAL / Math.sqrt(n)) {
                sum += (n - lag) * (n - lag - 1.0) * (n - lag - 2.0) * correlation;
            }
        }
        return plain.inflatedBy(Math.max(1, 1 + 2 * sum / (n * (n - 1.0) * (n - 2.0))));
    }

    /** The same S where its variance is so many times larger. */
    public MannKendall inflatedBy(double factor) {
        if (!(factor >= 1)) {
            throw new IllegalArgumentException("a variance is inflated by 1 or more: factor=" + factor);
        }
        return tested(n, s, variance, factor, tau);
    }

    private static MannKendall tested(int n, long s, double variance, double inflation, double tau) {
        double z = s == 0 || variance == 0 ? 0 : (s - Long.signum(s)) / Math.sqrt(variance * inflation);
        double p = Math.min(1, 2 * NORMAL.cumulativeProbability(-Math.abs(z)));
        return new MannKendall(n, s, variance, inflation, z, p, tau);
    }

    private static double variance(int n, int[] ties) {
        double sum = n * (n - 1.0) * (2.0 * n + 5);
        for (int t : ties) {
            sum -= t * (t - 1.0) * (2.0 * t + 5);
        }
        return sum / 18;
    }
}
