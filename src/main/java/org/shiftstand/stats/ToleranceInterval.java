package org.shiftstand.stats;

import java.util.Optional;
import java.util.OptionalDouble;
import org.apache.commons.math3.distribution.BetaDistribution;

/**
 * Limits that hold a stated share of all values to come with a stated confidence.
 *
 * @param low −∞ for an interval that is open downwards
 * @param high +∞ for one that is open upwards
 * @param coverage share of the population, between 0 and 1
 * @param confidence with which it is held; of order statistics at least what was asked for
 */
public record ToleranceInterval(double low, double high, double coverage, double confidence) {

    /** On which sides the interval has a limit. */
    public enum Sides {
        BOTH,
        LOWER,
        UPPER
    }

    /** Of normal values, exact: x̄ ± k s by {@link ToleranceFactor}; empty for fewer than two values. */
    public static Optional<ToleranceInterval> normal(Sample sample, Sides sides, double coverage, double confidence) {
        OptionalDouble sd = sample.standardDeviation();
        if (sd.isEmpty()) {
            return Optional.empty();
        }
        double mean = sample.mean().orElseThrow();
        double k = sides == Sides.BOTH
                ? ToleranceFactor.twoSided(sample.count(), coverage, confidence)
                : ToleranceFactor.oneSided(sample.count(), coverage, confidence);
        double half = k * sd.getAsDouble();
        return Optional.of(open(sides, mean - half, mean + half, coverage, confidence));
    }

    /**
     * Whatever the distribution: between two order statistics, or up to or from one (Wilks, Ann. Math. Stat. 12, 91–96, 1941;
     * Conover, Practical Nonparametric Statistics, 3.3).
     *
     * <p>With m of the n + 1 gaps between ordered values left out, the share held has a beta distribution of n + 1 − m and m,
     * so that it reaches p with confidence P(at most n − m of n values in a share p). As many are left out as the confidence
     * allows, of a two-sided interval as many above as below, an odd one above.
     *
     * @return empty where the values are too few: {@link ToleranceFactor#valuesForRange} and
     *     {@link ToleranceFactor#valuesForOneSide} say how many it takes
     */
    public static Optional<ToleranceInterval> ofOrder(Sample sample, Sides sides, double coverage, double confidence) {
        ToleranceFactor.check(2, coverage, confidence);
        int n = sample.count();
        int least = sides == Sides.BOTH ? 2 : 1;
        if (n < least || held(n, least, coverage) < confidence) {
            return Optional.empty();
        }
        int enough = least;
        int tooMany = n + 1;
        while (tooMany - enough > 1) {
            int middle = (enough + tooMany) >>> 1;
            if (held(n, middle, coverage) >= confidence) {
                enough = middle;
            } else {
                tooMany = middle;
            }
        }
        int below = sides == Sides.BOTH ? enough / 2 : enough;
        int above = sides == Sides.BOTH ? enough - below : enough;
        double[] sorted = sample.sorted();
        return Optional.of(open(sides, sorted[below - 1], sorted[n - above], coverage, held(n, enough, coverage)));
    }

    /** Confidence with which the share held is the coverage or more, so many gaps left out. */
    private static double held(int n, int gaps, double coverage) {
        return 1 - new BetaDistribution(null, n + 1.0 - gaps, gaps).cumulativeProbability(coverage);
    }

    private static ToleranceInterval open(Sides sides, double low, double high, double coverage, double confidence) {
        return new ToleranceInterval(
                sides == Sides.UPPER ? Double.NEGATIVE_INFINITY : low,
                sides == Sides.LOWER ? Double.POSITIVE_INFINITY : high,
                coverage,
                confidence);
    }
}
