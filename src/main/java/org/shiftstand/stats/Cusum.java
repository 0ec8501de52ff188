package org.shiftstand.stats;

import java.util.OptionalInt;

/**
 * A tabular chart of cumulative sums: hiᵢ = max(0, hiᵢ₋₁ + xᵢ − target − k), loᵢ = max(0, loᵢ₋₁ + target − k − xᵢ); a
 * signal where one exceeds h. Shows lasting steps.
 *
 * <p>Source: NIST/SEMATECH e-Handbook 6.3.2.3; E. S. Page, Biometrika 41, 100–115, 1954.
 */
public final class Cusum {
    /** A walk of single values exceeds a threshold by so many standard deviations on average; Siegmund, see below. */
    private static final double OVERSHOOT = 1.166;

    private final double[] high;
    private final double[] low;
    private final double threshold;

    private Cusum(double[] high, double[] low, double threshold) {
        this.high = high;
        this.low = low;
        this.threshold = threshold;
    }

    /**
     * The chart of these values.
     *
     * @param values in their order, finite; not changed
     * @param target what they should be
     * @param slack k in the values' unit, 0 or more; half the step that should be found is usual
     * @param threshold h in the values' unit, 0 or more; 4 to 5 times the spread of one value is usual
     */
    public static Cusum of(double[] values, double target, double slack, double threshold) {
        Finite.check(values);
        if (!(slack >= 0 && threshold >= 0)) {
            throw new IllegalArgumentException(
                    "slack and threshold are 0 or more: slack=" + slack + ", threshold=" + threshold);
        }
        double[] high = new double[values.length];
        double[] low = new double[values.length];
        for (int i = 0; i < values.length; i++) {
            high[i] = Math.max(0, (i == 0 ? 0 : high[i - 1]) + values[i] - target - slack);
            low[i] = Math.max(0, (i == 0 ? 0 : low[i - 1]) + target - slack - values[i]);
        }
        return new Cusum(high, low, threshold);
    }

    /**
     * The threshold h, in standard deviations of one value, at which a chart without any step signals once in so many values
     * on average: with b = 2k(h + 1.166) and both sides, (eᵇ − b − 1)/4k² ≈ eᵇ/4k² values. For a false signal in n values with
     * probability a, looks = n/a. Source: D. Siegmund, Sequential Analysis, Springer, 1985, for normal independent values.
     *
     * @param slack k in standard deviations of one value, above 0
     */
    public static double threshold(double slack, double looks) {
        return Math.max(0, Math.log(4 * slack * slack * looks) / (2 * slack) - OVERSHOOT);
    }

    /** Sums upwards after each value. */
    public double[] high() {
        return high.clone();
    }

    /** Sums downwards after each value, positive. */
    public double[] low() {
        return low.clone();
    }

    /** Place, from 0, of the first sum above the threshold. */
    public OptionalInt firstOutside() {
        for (int i = 0; i < high.length; i++) {
            if (high[i] > threshold || low[i] > threshold) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }
}
