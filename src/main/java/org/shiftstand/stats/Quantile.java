package org.shiftstand.stats;

import org.apache.commons.math3.distribution.BetaDistribution;
import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * Quantiles to a relative error of about 1e-12.
 *
 * <p>The library stops at 1e-9 absolute by itself, which is seven per cent of a chi-squared quantile near 1e-8 and a tenth
 * of a per cent of the limit for one hit in a million.
 */
final class Quantile {
    /** So that the solver's relative accuracy of 1e-14 decides. */
    private static final double ABSOLUTE = 1e-300;

    private Quantile() {}

    static double t(double freedom, double probability) {
        return probability == 0.5
                ? 0
                : new TDistribution(null, freedom, ABSOLUTE).inverseCumulativeProbability(probability);
    }

    static double chiSquared(double freedom, double probability) {
        return new ChiSquaredDistribution(null, freedom, ABSOLUTE).inverseCumulativeProbability(probability);
    }

    static double beta(double alpha, double beta, double probability) {
        return new BetaDistribution(null, alpha, beta, ABSOLUTE).inverseCumulativeProbability(probability);
    }
}
