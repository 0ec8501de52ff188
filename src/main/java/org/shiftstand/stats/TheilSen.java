package org.shiftstand.stats;

import java.util.Arrays;
import java.util.Optional;
import java.util.stream.IntStream;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * A straight line through points by the median of the slopes of all pairs; up to 29 % of the points may be anything.
 *
 * <p>Pairs with alike abscissas have no slope and are left out. There are two intercepts in use, which differ:
 * {@link #intercept()} belongs to the line that leaves as many points above as below; {@link #interceptOfMedians()} goes
 * through the medians. Sources: H. Theil, Proc. Kon. Ned. Akad. Wetensch. 53, 1950; P. K. Sen, J. Am. Stat. Assoc. 63,
 * 1379–1389, 1968, whose printed interval is wrong by slips in its list of slopes, its rule is not. Up to
 * {@value PairSlopes#LISTED} points exact, beyond off by rounding only; memory n²/2 there, n beyond.
 */
public final class TheilSen {
    private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

    private final double[] x;
    private final double[] y;
    private final PairSlopes slopes;
    private final double slope;
    private final double intercept;

    private TheilSen(double[] x, double[] y, PairSlopes slopes) {
        this.x = x;
        this.y = y;
        this.slopes = slopes;
        this.slope = slopes.count() == 0 ? 0 : slopes.median();
        this.intercept = median(residuals(0));
    }

    /**
     * The line through these points; empty where no two abscissas differ.
     *
     * @param x abscissas in any order, finite; not changed
     * @param y as many ordinates, finite; not changed
     */
    public static Optional<TheilSen> of(double[] x, double[] y) {
        if (x.length != y.length) {
            throw new IllegalArgumentException(
                    "each abscissa has one ordinate: abscissas=" + x.length + ", ordinates=" + y.length);
        }
        Finite.check(x);
        Finite.check(y);
        PairSlopes slopes = new PairSlopes(x, y);
        return slopes.count() == 0 ? Optional.empty() : Optional.of(new TheilSen(x.clone(), y.clone(), slopes));
    }

    /** Over places 0, 1, 2 …; level where there is only one value. */
    static TheilSen overPlaces(double[] y) {
        double[] x = IntStream.range(0, y.length).asDoubleStream().toArray();
        return new TheilSen(x, y.clone(), new PairSlopes(x, y));
    }

    public int n() {
        return x.length;
    }

    /** Median of the slopes of all pairs. */
    public double slope() {
        return slope;
    }

    /** Median of y − slope · x. */
    public double intercept() {
        return intercept;
    }

    /** Median of y − slope · median of x. */
    public double interceptOfMedians() {
        return median(y) - slope * median(x);
    }

    /** The line at an abscissa, with {@link #intercept()}. */
    public double at(double abscissa) {
        return intercept + slope * abscissa;
    }

    /** What the line leaves, in the order of the points: y − line. */
    public double[] residuals() {
        return residuals(intercept);
    }

    /** Median of the abscissas. */
    public double centre() {
        return median(x);
    }

    /** The interval where values are independent of each other. */
    public Optional<Limits> limits(double confidence) {
        return limits(confidence, 1);
    }

    /**
     * Sen's interval of the slope: of N slopes those of rank (N − C)/2 and (N + C)/2 + 1, each to the nearest, with
     * C = z √(V·f); V is the variance of Kendall's S with the ties of both coordinates. Empty where the points are too few
     * for this confidence.
     *
     * @param confidence two-sided, 0…1
     * @param inflation f, 1 or more: by how much the variance of S grows since values follow their predecessors
     */
    public Optional<Limits> limits(double confidence, double inflation) {
        if (!(confidence > 0 && confidence < 1 && inflation >= 1)) {
            throw new IllegalArgumentException("confidence lies in 0…1, inflation is 1 or more: confidence="
                    + confidence + ", inflation=" + inflation);
        }
        double z = NORMAL.inverseCumulativeProbability((1 + confidence) / 2);
        double c = z * Math.sqrt(variance() * inflation);
        long low = (long) Math.rint((slopes.count() - c) / 2);
        long high = (long) Math.rint((slopes.count() + c) / 2) + 1;
        return low < 1 || high > slopes.count()
                ? Optional.empty()
                : Optional.of(new Limits(slopes.at(low), slopes.at(high), confidence));
    }

    /** Of Kendall's S with ties in both coordinates: M. G. Kendall, Rank Correlation Methods, chapter 4. */
    private double variance() {
        double n = x.length;
        int[] tx = Ordered.ties(x);
        int[] ty = Ordered.ties(y);
        double linear = n * (n - 1) * (2 * n + 5)
                - sum(tx, t -> t * (t - 1) * (2 * t + 5))
                - sum(ty, t -> t * (t - 1) * (2 * t + 5));
        double pairs = sum(tx, t -> t * (t - 1)) * sum(ty, t -> t * (t - 1)) / (2 * n * (n - 1));
        double triples = n < 3
                ? 0
                : sum(tx, t -> t * (t - 1) * (t - 2))
                        * sum(ty, t -> t * (t - 1) * (t - 2))
                        / (9 * n * (n - 1) * (n - 2));
        return linear / 18 + pairs + triples;
    }

    private static double sum(int[] sizes, java.util.function.DoubleUnaryOperator term) {
        return Arrays.stream(sizes).asDoubleStream().map(term).sum();
    }

    private double[] residuals(double height) {
        double[] left = new double[y.length];
        for (int i = 0; i < left.length; i++) {
            left[i] = y[i] - (height + slope * x[i]);
        }
        return left;
    }

    private static double median(double[] values) {
        return Sample.of(values).median().orElseThrow();
    }

    /**
     * An interval of a slope.
     *
     * @param confidence two-sided, 0…1
     */
    public record Limits(double low, double high, double confidence) {
        /** Whether a slope lies inside, the ends included. */
        public boolean hold(double slope) {
            return low <= slope && slope <= high;
        }
    }
}
