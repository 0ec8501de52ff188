package org.shiftstand.stats;

import java.util.OptionalInt;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * A chart of exponentially weighted means: zᵢ = λxᵢ + (1 − λ)zᵢ₋₁, z₀ the target. Shows slow drift.
 *
 * <p>Limits after i values: target ± k σ √(λ/(2 − λ) · (1 − (1 − λ)²ⁱ)). Source: NIST/SEMATECH e-Handbook 6.3.2.4, whose
 * limits are those for many values and use a rounded factor; S. W. Roberts, Technometrics 1, 239–250, 1959.
 */
public final class Ewma {
    private final double[] means;
    private final double target;
    private final double sd;
    private final double weight;
    private final double width;

    private Ewma(double[] values, double target, double sd, double weight, double width) {
        this.target = target;
        this.sd = sd;
        this.weight = weight;
        this.width = width;
        this.means = new double[values.length];
        double mean = target;
        for (int i = 0; i < values.length; i++) {
            mean = weight * values[i] + (1 - weight) * mean;
            means[i] = mean;
        }
    }

    /**
     * The chart of these values.
     *
     * @param values in their order, finite; not changed
     * @param target what they should be
     * @param sd of one value, σ; 0 or more
     * @param weight λ, above 0, at most 1
     * @param width k, above 0
     */
    public static Ewma of(double[] values, double target, double sd, double weight, double width) {
        Finite.check(values);
        if (!(sd >= 0 && weight > 0 && weight <= 1 && width > 0)) {
            throw new IllegalArgumentException("sd is 0 or more, weight in 0…1, width above 0: sd=" + sd + ", weight="
                    + weight + ", width=" + width);
        }
        return new Ewma(values, target, sd, weight, width);
    }

    /**
     * The width k at which one of so many places, each looked at on both sides, lies outside once on average
     * (Bonferroni): for a false signal in one chart of n values with probability a, looks = n/a.
     */
    public static double width(double looks) {
        return new NormalDistribution(null, 0, 1).inverseCumulativeProbability(1 - 1 / (2 * looks));
    }

    /** zᵢ after each value. */
    public double[] means() {
        return means.clone();
    }

    /** Half the distance of the limits once there are many values: k σ √(λ/(2 − λ)). */
    public double reach() {
        return width * sd * Math.sqrt(weight / (2 - weight));
    }

    /** Half the distance of the limits after so many values, 1 and more. */
    public double reachAfter(int count) {
        return reach() * Math.sqrt(1 - Math.pow(1 - weight, 2.0 * count));
    }

    /** Place, from 0, of the first mean outside the limits of its place. */
    public OptionalInt firstOutside() {
        for (int i = 0; i < means.length; i++) {
            if (Math.abs(means[i] - target) > reachAfter(i + 1)) {
                return OptionalInt.of(i);
            }
        }
        return OptionalInt.empty();
    }
}
