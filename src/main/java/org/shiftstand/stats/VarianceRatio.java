package org.shiftstand.stats;

import org.apache.commons.math3.special.Beta;

/** Fisher's ratio of two mean squares. */
final class VarianceRatio {
    private VarianceRatio() {}

    /**
     * Chance of a ratio of f or more from equal variances, through the incomplete beta function; not as 1 − the chance of
     * less, of which nothing is left below 1e-16.
     *
     * @param f infinite where the lower one is 0; NaN where both are, which speaks against nothing
     */
    static double pValue(double f, double upperFreedom, double lowerFreedom) {
        if (Double.isNaN(f) || f <= 0) {
            return 1;
        }
        return Double.isInfinite(f)
                ? 0
                : Beta.regularizedBeta(
                        lowerFreedom / (lowerFreedom + upperFreedom * f), lowerFreedom / 2, upperFreedom / 2);
    }
}
