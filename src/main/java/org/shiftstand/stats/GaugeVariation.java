package org.shiftstand.stats;

import java.util.OptionalDouble;

/**
 * Where the spread of a gauge study comes from, as standard deviations.
 *
 * @param repeatability of repeats in one mount (equipment variation)
 * @param reproducibility of mounting anew (appraiser variation), without the interaction
 * @param interaction of unit and mount; 0 where it was pooled or is not told apart
 * @param unit of the units themselves (part variation)
 */
public record GaugeVariation(double repeatability, double reproducibility, double interaction, double unit) {
    /**
     * 1.41, the factor that the trade prints in place of the root of 2 (AIAG Measurement Systems Analysis); with the root
     * a raw figure would be 0.3 % larger.
     */
    private static final double NDC_FACTOR = 1.41;

    public GaugeVariation {
        if (!(repeatability >= 0 && reproducibility >= 0 && interaction >= 0 && unit >= 0)) {
            throw new IllegalArgumentException("standard deviations are 0 or more: repeatability=" + repeatability
                    + ", reproducibility=" + reproducibility + ", interaction=" + interaction + ", unit=" + unit);
        }
    }

    static GaugeVariation ofVariances(double repeatability, double mount, double interaction, double unit) {
        return new GaugeVariation(root(repeatability), root(mount), root(interaction), root(unit));
    }

    /** An estimate of a variance may come out below 0 where there is next to none: then it counts as 0. */
    static double root(double variance) {
        return Math.sqrt(Math.max(0, variance));
    }

    /** Of the gauge: repeatability, reproducibility and interaction together. */
    public double gauge() {
        return Math.hypot(Math.hypot(repeatability, reproducibility), interaction);
    }

    /** Of gauge and units together. */
    public double total() {
        return Math.hypot(gauge(), unit);
    }

    /** %study variation of one of these as a share of the total; 0 where nothing varied. */
    public double shareOfTotal(double part) {
        return total() == 0 ? 0 : part / total();
    }

    /** %contribution: the gauge's share of the total variance; 0 where nothing varied. */
    public double contribution() {
        double share = shareOfTotal(gauge());
        return share * share;
    }

    /**
     * %tolerance: six standard deviations as a share of the tolerance's width (common practice; some use 5.15).
     *
     * @param width above 0
     */
    public static double shareOfTolerance(double part, double width) {
        if (!(width > 0)) {
            throw new IllegalArgumentException("a tolerance has a width above 0: width=" + width);
        }
        return 6 * part / width;
    }

    /** 1.41 · units / gauge, not truncated; empty where the gauge showed no variation at all. */
    public OptionalDouble rawDistinctCategories() {
        return gauge() == 0 ? OptionalDouble.empty() : OptionalDouble.of(NDC_FACTOR * unit / gauge());
    }

    /** Number of distinct categories: truncated, never rounded; empty where the gauge showed no variation at all. */
    public OptionalDouble distinctCategories() {
        OptionalDouble raw = rawDistinctCategories();
        return raw.isPresent() ? OptionalDouble.of(Math.floor(raw.getAsDouble())) : raw;
    }
}
