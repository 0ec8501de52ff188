package org.shiftstand.stats;

import org.apache.commons.math3.distribution.BetaDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Confidence limits of what a sample was drawn from. Each limit is one-sided: it holds by itself with the stated confidence;
 * a two-sided interval of 95 % has the limits of 97.5 %.
 *
 * <p>Numbers of values need not be whole: where values follow each other, their effective number is given. Confidence lies
 * between 0 and 1; below one half the lower limit lies above the estimate.
 */
public final class ConfidenceLimits {
    private ConfidenceLimits() {}

    /** At least, at most; infinite where there is no such limit. */
    public record Limits(double low, double high) {
        static final Limits NONE = new Limits(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
    }

    /**
     * Of a mean: mean ± t s/√n, Student's t with n − 1 degrees of freedom.
     *
     * @param n above 1, else there are none
     */
    public static Limits mean(double mean, double sd, double n, double confidence) {
        check(confidence);
        if (!(n > 1) || !Double.isFinite(sd)) {
            return Limits.NONE;
        }
        double half = t(n - 1, confidence) * sd / Math.sqrt(n);
        return new Limits(mean - half, mean + half);
    }

    /**
     * Of a standard deviation of normal values: s √(ν/χ²), chi-squared with ν degrees of freedom at either end.
     *
     * @param freedom n − 1, or Σ(n − 1) of a pooled one; above 0, else there are none
     */
    public static Limits standardDeviation(double sd, double freedom, double confidence) {
        check(confidence);
        if (!(freedom > 0) || !Double.isFinite(sd)) {
            return Limits.NONE;
        }
        return new Limits(
                sd * Math.sqrt(freedom / Quantile.chiSquared(freedom, confidence)),
                sd * Math.sqrt(freedom / Quantile.chiSquared(freedom, 1 - confidence)));
    }

    /**
     * Of a percentile, whatever the distribution: order statistics whose places the binomial distribution of n and p gives
     * (Conover, Practical Nonparametric Statistics, 3.2). Infinite where n is too small: the largest of n values is above
     * the percentile p with confidence 1 − pⁿ only.
     *
     * @param fraction p, above 0 and below 1
     * @param n effective number of values; places are taken in proportion where it is less than the sample's
     */
    public static Limits percentile(Sample sample, double fraction, double n, double confidence) {
        check(confidence);
        if (!(fraction > 0 && fraction < 1)) {
            throw new IllegalArgumentException("a percentile's fraction lies between 0 and 1: fraction=" + fraction);
        }
        int whole = (int) Math.floor(n);
        if (whole < 1) {
            return Limits.NONE;
        }
        int high = highPlace(whole, fraction, confidence);
        int low = whole + 1 - highPlace(whole, 1 - fraction, confidence);
        double[] sorted = sample.sorted();
        return new Limits(
                low < 1 ? Double.NEGATIVE_INFINITY : sorted[place(low, whole, sorted.length, false)],
                high > whole ? Double.POSITIVE_INFINITY : sorted[place(high, whole, sorted.length, true)]);
    }

    /** The smallest r at which the r-th value of n is above the percentile with this confidence; n + 1 where none is. */
    private static int highPlace(int n, double fraction, double confidence) {
        int below = 0;
        int enough = n + 1;
        while (enough - below > 1) {
            int r = (below + enough) >>> 1;
            // P(at most r − 1 of n values below the percentile): a binomial sum, through the beta distribution
            double sure = 1 - new BetaDistribution(null, r, n - r + 1.0).cumulativeProbability(fraction);
            if (sure >= confidence) {
                enough = r;
            } else {
                below = r;
            }
        }
        return enough;
    }

    /** The same place among more values, farther out rather than nearer. */
    private static int place(int of, int n, int all, boolean upper) {
        double scaled = (of - 0.5) * all / n - 0.5;
        int index = (int) (upper ? Math.ceil(scaled - 1e-9) : Math.floor(scaled + 1e-9));
        return Math.max(0, Math.min(all - 1, index));
    }

    /** Of a proportion, exact (Clopper and Pearson, Biometrika 26, 404–413, 1934). */
    public static Limits proportion(long hits, long trials, double confidence) {
        check(confidence);
        if (hits < 0 || hits > trials) {
            throw new IllegalArgumentException("hits lie in 0…trials: hits=" + hits + ", trials=" + trials);
        }
        if (trials == 0) {
            return new Limits(0, 1);
        }
        double low = hits == 0 ? 0 : Quantile.beta(hits, trials - hits + 1.0, 1 - confidence);
        double high = hits == trials ? 1 : Quantile.beta(hits + 1.0, trials - hits, confidence);
        return new Limits(low, high);
    }

    /** Of a proportion by Wilson's score, without continuity correction (J. Am. Stat. Assoc. 22, 209–212, 1927). */
    public static Limits wilson(long hits, long trials, double confidence) {
        check(confidence);
        if (hits < 0 || hits > trials || trials == 0) {
            throw new IllegalArgumentException("hits lie in 0…trials: hits=" + hits + ", trials=" + trials);
        }
        double z = new NormalDistribution(null, 0, 1).inverseCumulativeProbability(confidence);
        double n = trials;
        double share = hits / n;
        double middle = share + z * z / (2 * n);
        double half = z * Math.sqrt(share * (1 - share) / n + z * z / (4 * n * n));
        double below = 1 + z * z / n;
        return new Limits(hits == 0 ? 0 : (middle - half) / below, hits == trials ? 1 : (middle + half) / below);
    }

    /**
     * Of the difference of two means, spreads unknown and not equal (Welch, Biometrika 34, 28–35, 1947).
     *
     * @param worth effective over actual number of values, above 0 to 1
     */
    public static Limits difference(Sample a, Sample b, double worth, double confidence) {
        check(confidence);
        double na = worth * a.count();
        double nb = worth * b.count();
        if (!(na > 1) || !(nb > 1)) {
            return Limits.NONE;
        }
        double va = square(a.standardDeviation().orElseThrow()) / na;
        double vb = square(b.standardDeviation().orElseThrow()) / nb;
        double difference = a.mean().orElseThrow() - b.mean().orElseThrow();
        if (va + vb == 0) {
            return new Limits(difference, difference);
        }
        double freedom = square(va + vb) / (va * va / (na - 1) + vb * vb / (nb - 1));
        double half = t(freedom, confidence) * Math.sqrt(va + vb);
        return new Limits(difference - half, difference + half);
    }

    private static double t(double freedom, double confidence) {
        return Quantile.t(freedom, confidence);
    }

    private static double square(double x) {
        return x * x;
    }

    private static void check(double confidence) {
        if (!(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("a confidence lies between 0 and 1: confidence=" + confidence);
        }
    }
}
