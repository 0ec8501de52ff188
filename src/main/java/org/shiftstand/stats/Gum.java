package org.shiftstand.stats;

import java.util.Arrays;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Combination of standard uncertainties, and the interval that follows (JCGM 100:2008, clauses 5 and 6, annex G).
 *
 * <p>All in the unit of the result: a component is its input's standard uncertainty times its sensitivity, with sign.
 */
public final class Gum {
    private Gum() {}

    /**
     * What components give together.
     *
     * @param standard combined standard uncertainty; 0 or more
     * @param freedom effective degrees of freedom, not truncated; infinite where every component's are
     * @param shares part of the combined variance that comes with each component, in the order given, together 1; below 0
     *     where a correlation makes a component take away; all 0 where {@code standard} is
     */
    public record Combined(double standard, double freedom, double[] shares) {
        public Combined {
            shares = shares.clone();
        }

        @Override
        public double[] shares() {
            return shares.clone();
        }

        /** k: the two-sided Student factor for the truncated degrees of freedom (JCGM 100, G.4.1, G.6.4). */
        public double coverageFactor(double confidence) {
            return Gum.coverageFactor(freedom, confidence);
        }

        /** U = k · u. */
        public double expanded(double confidence) {
            return standard == 0 ? 0 : coverageFactor(confidence) * standard;
        }

        @Override
        public boolean equals(Object other) {
            return other instanceof Combined c
                    && Double.compare(standard, c.standard) == 0
                    && Double.compare(freedom, c.freedom) == 0
                    && Arrays.equals(shares, c.shares);
        }

        @Override
        public int hashCode() {
            return Double.hashCode(standard) * 31 + Arrays.hashCode(shares);
        }

        @Override
        public String toString() {
            return "Combined[standard=" + standard + ", freedom=" + freedom + ", shares=" + Arrays.toString(shares)
                    + "]";
        }
    }

    /**
     * Components that do not depend on each other: root of the sum of squares (JCGM 100, eq. 10); effective degrees of
     * freedom by Welch and Satterthwaite, ν = u⁴ / Σ(uᵢ⁴/νᵢ) (eq. G.2b).
     *
     * @param components any sign, finite
     * @param freedoms of each, above 0, may be infinite
     */
    public static Combined combine(double[] components, double[] freedoms) {
        double[][] none = new double[components.length][components.length];
        for (int i = 0; i < none.length; i++) {
            none[i][i] = 1;
        }
        return combine(components, freedoms, none);
    }

    /**
     * Components of which some depend on each other: u² = Σᵢⱼ rᵢⱼ uᵢ uⱼ (JCGM 100, eq. 16).
     *
     * <p>Effective degrees of freedom: the formula of Welch and Satterthwaite holds for independent components. Here it is
     * the same first-order reasoning with known correlations, ν = u⁴ / Σ(uᵢ² (Σⱼ rᵢⱼ uⱼ)² / νᵢ), which becomes theirs where
     * there are none.
     *
     * @param correlations symmetric, n × n, in −1…1, ones on the diagonal
     */
    public static Combined combine(double[] components, double[] freedoms, double[][] correlations) {
        check(components, freedoms, correlations);
        int n = components.length;
        double[] with = new double[n]; // uᵢ Σⱼ rᵢⱼ uⱼ: what the variance owes to component i
        double variance = 0;
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                with[i] += components[i] * correlations[i][j] * components[j];
            }
            variance += with[i];
        }
        if (!(variance > 0)) { // rounding may leave it just below 0 where components cancel
            return new Combined(0, Double.POSITIVE_INFINITY, new double[n]);
        }
        double lost = 0;
        double[] shares = new double[n];
        for (int i = 0; i < n; i++) {
            shares[i] = with[i] / variance;
            lost += shares[i] * shares[i] / freedoms[i];
        }
        return new Combined(Math.sqrt(variance), lost > 0 ? 1 / lost : Double.POSITIVE_INFINITY, shares);
    }

    /**
     * Two-sided coverage factor: Student's quantile at (1 + confidence) / 2 for truncated degrees of freedom, at least 1;
     * normal for infinite ones.
     *
     * @param confidence above 0, below 1
     */
    public static double coverageFactor(double freedom, double confidence) {
        if (!(confidence > 0 && confidence < 1)) {
            throw new IllegalArgumentException("a level of confidence lies between 0 and 1: confidence=" + confidence);
        }
        return quantile(truncated(freedom), (1 + confidence) / 2);
    }

    /** One-sided quantile of Student's distribution, of the normal one for infinite degrees of freedom. */
    public static double quantile(double freedom, double probability) {
        return Double.isInfinite(freedom)
                ? new NormalDistribution(null, 0, 1).inverseCumulativeProbability(probability)
                : Quantile.t(freedom, probability);
    }

    /** To the whole number below (JCGM 100, G.4.1), so that k errs towards too large; at least 1. */
    public static double truncated(double freedom) {
        if (!(freedom > 0)) {
            throw new IllegalArgumentException("degrees of freedom are above 0: freedom=" + freedom);
        }
        // a sum of thirds that is 12 in exact arithmetic must not become 11
        return Math.max(1, Math.floor(freedom * (1 + 1e-12)));
    }

    private static void check(double[] components, double[] freedoms, double[][] correlations) {
        int n = components.length;
        if (freedoms.length != n || correlations.length != n) {
            throw new IllegalArgumentException("one freedom and one row of correlations for each component: components="
                    + n + ", freedoms=" + freedoms.length + ", rows=" + correlations.length);
        }
        for (int i = 0; i < n; i++) {
            if (!Double.isFinite(components[i]) || !(freedoms[i] > 0)) {
                throw new IllegalArgumentException("a component is finite and its freedom above 0: component[" + i
                        + "]=" + components[i] + ", freedom=" + freedoms[i]);
            }
            for (int j = 0; j < n; j++) {
                double r = correlations[i][j];
                if (!(Math.abs(r) <= 1) || r != correlations[j][i] || (i == j && r != 1)) {
                    throw new IllegalArgumentException(
                            "correlations are symmetric, within −1…1, 1 with itself: r[" + i + "][" + j + "]=" + r);
                }
            }
        }
    }
}
