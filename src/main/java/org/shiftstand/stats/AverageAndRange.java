package org.shiftstand.stats;

/**
 * A gauge study by averages and ranges (AIAG Measurement Systems Analysis): the pocket calculator's way, which takes no
 * notice of an interaction.
 *
 * @param meanRange mean of the ranges of all cells
 * @param mountDifference largest less smallest mean of a mount
 * @param unitRange largest less smallest mean of a unit
 * @param k1 repeatability for a mean range of 1
 * @param k2 reproducibility for a difference of 1
 * @param k3 unit variation for a range of 1
 * @param reproducibilityRadicand under the root; below 0 the reproducibility is 0
 */
public record AverageAndRange(
        double meanRange,
        double mountDifference,
        double unitRange,
        double k1,
        double k2,
        double k3,
        double reproducibilityRadicand,
        GaugeVariation variation) {
    /** From this many ranges on, the published table takes d2 for d2*. */
    private static final int MANY_RANGES = 16;

    /** Evaluates; AV = √((X·K2)² − EV² / (units · repeats)). */
    public static AverageAndRange of(CrossedStudy study) {
        double k1 = k1(study.repeats(), study.units() * study.mounts());
        double k2 = 1 / MeanRange.d2Star(study.mounts(), 1);
        double k3 = 1 / MeanRange.d2Star(study.units(), 1);
        double repeatability = study.meanRange() * k1;
        double difference = study.rangeOfMountMeans();
        double radicand =
                difference * k2 * difference * k2 - repeatability * repeatability / (study.units() * study.repeats());
        return new AverageAndRange(
                study.meanRange(),
                difference,
                study.rangeOfUnitMeans(),
                k1,
                k2,
                k3,
                radicand,
                new GaugeVariation(repeatability, GaugeVariation.root(radicand), 0, study.rangeOfUnitMeans() * k3));
    }

    /**
     * K1 = 1 / d2*; with more than 15 ranges 1 / d2, as the published table has it.
     *
     * @param ranges how many are averaged: units times mounts
     */
    public static double k1(int repeats, int ranges) {
        return 1 / (ranges < MANY_RANGES ? MeanRange.d2Star(repeats, ranges) : MeanRange.d2(repeats));
    }
}
