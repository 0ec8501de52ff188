package org.shiftstand.stats;

import org.apache.commons.math3.distribution.TDistribution;

/**
 * Whether two means are alike within a stated bound: two one-sided tests (Schuirmann, J. Pharmacokin. Biopharm. 15, 657–680,
 * 1987; Lakens, Soc. Psychol. Personal. Sci. 8, 355–362, 2017).
 *
 * @param difference of the means, first − second
 * @param standardError of it
 * @param freedom of Student's t
 * @param bound Δ above 0: alike means −Δ &lt; difference &lt; Δ
 */
public record Equivalence(double difference, double standardError, double freedom, double bound) {
    public Equivalence {
        if (!(bound > 0) || !(standardError > 0) || !(freedom > 0) || !Double.isFinite(difference)) {
            throw new IllegalArgumentException("a bound, an error and a freedom above 0: bound=" + bound
                    + ", standardError=" + standardError + ", freedom=" + freedom + ", difference=" + difference);
        }
    }

    /**
     * What is known of one side.
     *
     * @param sd divisor n − 1
     * @param n two or more
     */
    public record Side(double mean, double sd, int n) {
        double variance() {
            return sd * sd;
        }
    }

    /** Spreads not taken to be equal (Welch). */
    public static Equivalence welch(Side a, Side b, double bound) {
        double va = a.variance() / a.n();
        double vb = b.variance() / b.n();
        double freedom = (va + vb) * (va + vb) / (va * va / (a.n() - 1) + vb * vb / (b.n() - 1));
        return new Equivalence(a.mean() - b.mean(), Math.sqrt(va + vb), freedom, bound);
    }

    /** Spreads taken to be equal (Student). */
    public static Equivalence student(Side a, Side b, double bound) {
        double freedom = a.n() + b.n() - 2.0;
        double pooled = ((a.n() - 1) * a.variance() + (b.n() - 1) * b.variance()) / freedom;
        return new Equivalence(a.mean() - b.mean(), Math.sqrt(pooled * (1.0 / a.n() + 1.0 / b.n())), freedom, bound);
    }

    /** Of the test against −Δ; large and positive where the difference is surely above it. */
    public double tLower() {
        return (difference + bound) / standardError;
    }

    /** Of the test against Δ; large and negative where the difference is surely below it. */
    public double tUpper() {
        return (difference - bound) / standardError;
    }

    public double pLower() {
        return student().cumulativeProbability(-tLower());
    }

    public double pUpper() {
        return student().cumulativeProbability(tUpper());
    }

    /** Of means that are not alike: the larger of the two. */
    public double pValue() {
        return Math.max(pLower(), pUpper());
    }

    /** Each limit one-sided at this confidence: alike at 1 − confidence where both lie within ± Δ. */
    public ConfidenceLimits.Limits limits(double confidence) {
        double half = Quantile.t(freedom, confidence) * standardError;
        return new ConfidenceLimits.Limits(difference - half, difference + half);
    }

    private TDistribution student() {
        return new TDistribution(null, freedom);
    }
}
