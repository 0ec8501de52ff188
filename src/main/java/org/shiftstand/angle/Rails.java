package org.shiftstand.angle;

import java.util.Arrays;
import java.util.stream.DoubleStream;

/**
 * Values at which an output of the Hall pair, or its converter, is clipped: readings there or beyond say nothing but the
 * side.
 *
 * <p>Told from knots of motion. At an extreme that is clipped readings pile up, {@value #PILE} times as many as in the
 * equal width next to it (near the peak of a sine at most 2.5 times), and the other output goes on the while, over
 * {@value #WIDE} times what it would at the peak of a circle. Either alone has other causes: a shaft that rests there, or
 * noise. The width is {@value #WIDTH} of half the range, or 1.5 counts. A clipping of less than 1.5 widths is not told.
 *
 * @param cosLow readings at or below are clipped; −∞ without
 * @param cosHigh readings at or above; ∞ without
 * @param sinLow the same of the sine
 * @param sinHigh the same of the sine
 */
public record Rails(double cosLow, double cosHigh, double sinLow, double sinHigh) {
    public static final Rails NONE = new Rails(
            Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);

    static final double WIDTH = 0.004;
    static final double PILE = 4;
    static final double WIDE = 1.4;
    private static final double COUNTS = 1.5;
    /** Readings at a rail over those beyond it, which are wild; noise has as many beyond. */
    private static final int BEYOND = 10;

    private static final int FEWEST = 200;
    private static final int FEWEST_AT_RAIL = 12;
    /** One in so many may lie beyond a rail: wild values. */
    private static final int WILD = 200;

    /** Whether an output is clipped anywhere. */
    public boolean isAny() {
        return !equals(NONE);
    }

    /** 1 at the upper rail of the cosine, −1 at the lower one, 0 between. */
    int ofCos(double x) {
        return x >= cosHigh ? 1 : x <= cosLow ? -1 : 0;
    }

    /** The same of the sine. */
    int ofSin(double y) {
        return y >= sinHigh ? 1 : y <= sinLow ? -1 : 0;
    }

    static Rails of(double[] cos, double[] sin, int n) {
        return n < FEWEST
                ? NONE
                : new Rails(-rail(cos, sin, n, -1), rail(cos, sin, n, 1), -rail(sin, cos, n, -1), rail(sin, cos, n, 1));
    }

    /** The upper rail of {@code sign} times a channel; infinite where it has none. */
    private static double rail(double[] channel, double[] other, int n, int sign) {
        double[] sorted =
                Arrays.stream(channel, 0, n).map(x -> sign * x).sorted().toArray();
        double top = sorted[n - 1 - n / WILD];
        double half = (top - sorted[n / WILD]) / 2;
        double width = Math.max(WIDTH * half, COUNTS * step(sorted, half));
        double rail = top - width;
        long next =
                Arrays.stream(sorted).filter(x -> x < rail && x >= rail - width).count();
        double[] at = across(channel, other, n, sign, rail, top + width); // not all beyond: noise has a long tail
        double[] all = Arrays.stream(other, 0, n).sorted().toArray();
        double radius = spread(all, 1.0 / WILD) / 2;
        long beyond = Arrays.stream(sorted).filter(x -> x > top + width).count();
        boolean piles =
                at.length >= FEWEST_AT_RAIL && at.length >= PILE * Math.max(1, next) && at.length >= BEYOND * beyond;
        boolean goesOn = at.length > 0 && spread(at, 0.05) / 2 >= 0.9 * WIDE * Math.sqrt(2 * width / half) * radius;
        return half > 0 && piles && goesOn ? rail : Double.POSITIVE_INFINITY;
    }

    /** Ascending, of the other channel. */
    private static double[] across(double[] channel, double[] other, int n, int sign, double from, double to) {
        double[] at = new double[n];
        int count = 0;
        for (int i = 0; i < n; i++) {
            if (sign * channel[i] >= from && sign * channel[i] <= to) {
                at[count++] = other[i];
            }
        }
        Arrays.sort(at, 0, count);
        return Arrays.copyOf(at, count);
    }

    private static double spread(double[] sorted, double leftOut) {
        int out = (int) (leftOut * sorted.length);
        return sorted[sorted.length - 1 - out] - sorted[out];
    }

    /** Smallest step between two values: one count, or nearly nothing where they are no counts. */
    private static double step(double[] sorted, double half) {
        double least = half;
        for (int i = 1; i < sorted.length; i++) {
            double step = sorted[i] - sorted[i - 1];
            least = step > 1e-9 * half ? Math.min(least, step) : least;
        }
        return least;
    }

    /** The least part of the radius at which an output is clipped; 1 where none is. */
    double leastPart(Ellipse e) {
        double ofSin = e.gainRatio() / e.radius();
        return DoubleStream.of(
                        (cosHigh - e.cosOffset()) / e.radius(),
                        (e.cosOffset() - cosLow) / e.radius(),
                        (sinHigh - e.sinOffset()) * ofSin,
                        (e.sinOffset() - sinLow) * ofSin,
                        1)
                .min()
                .orElse(1);
    }
}
