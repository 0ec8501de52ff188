package org.shiftstand.stats;

import java.util.List;

/**
 * How far values follow their predecessors, whatever trend or step lies beneath.
 *
 * <p>φ of a first-order process, from mean squared differences over one and two places, D₁ and D₂: φ = D₂/D₁ − 1, since
 * D₁ = 2σ²(1 − φ) and D₂ = 2σ²(1 − φ²). A slow trend or a single step bears on both by little, so that a unit's own drift
 * is not taken for following; the usual coefficient would need the drift removed first, which lowers it. Only φ above 0
 * counts, and never more than {@value #MOST}.
 *
 * @param phi 0…{@value #MOST}
 */
public record Persistence(double phi) {
    static final double MOST = 0.95;

    /** Of several series of the same kind together: few values each would not tell. Those below 3 values say nothing. */
    public static Persistence of(List<double[]> series) {
        double one = 0;
        double two = 0;
        for (double[] values : series) {
            if (values.length < 3) {
                continue;
            }
            double first = differences(values, 1);
            if (first > 0) { // each counts by its length, not by its spread
                one += values.length;
                two += values.length * differences(values, 2) / first;
            }
        }
        double phi = one == 0 ? 0 : two / one - 1;
        return new Persistence(Math.min(MOST, Math.max(0, phi)));
    }

    public static Persistence of(double... values) {
        return of(List.of(values));
    }

    /** Mean square of what lies so many places apart. */
    private static double differences(double[] values, int lag) {
        double sum = 0;
        for (int i = lag; i < values.length; i++) {
            double d = values[i] - values[i - lag];
            sum += d * d;
        }
        return sum / (values.length - lag);
    }

    /** Standard deviation of one value about whatever trend lies beneath: √(D₁ / 2(1 − φ)); 0 for less than 2 values. */
    public double sd(double[] values) {
        return values.length < 2 ? 0 : Math.sqrt(differences(values, 1) / (2 * (1 - phi)));
    }

    /**
     * For one series among many of its kind: what they all show, or what it shows itself where that is more by a standard
     * error of its own, √(2/n) for independent values.
     */
    public Persistence orOwn(double[] values) {
        double own = of(values).phi() - Math.sqrt(2.0 / Math.max(1, values.length));
        return own > phi ? new Persistence(own) : this;
    }

    /** By how much the variance of {@link Ewma}'s means grows: W. Schmid, A. Schöne, 1997, for many values. */
    public double ofWeighted(double weight) {
        double kept = phi * (1 - weight);
        return (1 + kept) / (1 - kept);
    }

    /** By how much the variance of Kendall's S of n values grows: Hamed and Rao's sum with φ to the power of the lag. */
    public double ofTrend(int n) {
        double sum = 0;
        double power = 1;
        for (int lag = 1; lag < n - 2; lag++) {
            power *= phi;
            sum += (n - lag) * (n - lag - 1.0) * (n - lag - 2.0) * power;
        }
        return n < 3 ? 1 : 1 + 2 * sum / (n * (n - 1.0) * (n - 2.0));
    }

    /** By how much the variance of long sums grows: (1 + φ)/(1 − φ). */
    public double ofSums() {
        return (1 + phi) / (1 - phi);
    }
}
