package org.shiftstand.stats;

import java.util.List;

/**
 * Repeatability and reproducibility of a method by ISO 5725-2, from groups (laboratories, units, mounts) of repeated values.
 *
 * <p>Groups of one value say nothing of repeatability. The between-group variance is taken for 0 where it comes out below.
 *
 * @param repeatabilitySd s_r: within groups, pooled
 * @param betweenSd s_L: between groups
 * @param mean of all values
 */
public record Precision(double repeatabilitySd, double betweenSd, double mean) {
    /** The standard's factor of a limit: 1.96 √2 = 2.7718, rounded. */
    public static final double FACTOR = 2.8;

    /** @param groups two or more, with more values than groups altogether */
    public static Precision of(List<Sample> groups) {
        OneWayAnova anova = OneWayAnova.of(groups);
        double within = anova.withinMeanSquare();
        double n = groups.stream().mapToInt(Sample::count).sum();
        double squares =
                groups.stream().mapToDouble(g -> (double) g.count() * g.count()).sum();
        double size = (n - squares / n) / (groups.size() - 1); // n̄ of groups that differ in size
        double between = Math.max(0, (anova.betweenMeanSquare() - within) / size);
        double[] all = groups.stream()
                .flatMapToDouble(g -> java.util.Arrays.stream(g.sorted()))
                .toArray();
        return new Precision(
                Math.sqrt(within), Math.sqrt(between), Sample.of(all).mean().orElseThrow());
    }

    /** s_R = √(s_r² + s_L²). */
    public double reproducibilitySd() {
        return Math.hypot(repeatabilitySd, betweenSd);
    }

    /** r: two values of one group differ by less with about 95 % probability. */
    public double repeatabilityLimit() {
        return limit(repeatabilitySd);
    }

    /** R: likewise of two groups. */
    public double reproducibilityLimit() {
        return limit(reproducibilitySd());
    }

    /** A limit from a standard deviation that is already known. */
    public static double limit(double sd) {
        return FACTOR * sd;
    }
}
