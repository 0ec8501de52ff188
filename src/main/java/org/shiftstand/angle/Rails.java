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
        if (n < FEWEST) {
            return NONE;
        }
        double[] x = Arrays.stream(cos, 0, n).sorted().toArray();
        double[] y = Arrays.stream(sin, 0, n).sorted().toArray();
        return new Rails(
                -rail(turned(x), y, cos, sin, -1),
                rail(x, y, cos, sin, 1),
                -rail(turned(y), x, sin, cos, -1),
                rail(y, x, sin, cos, 1));
    }

    /** Ascending negatives. */
    private static double[] turned(double[] ascending) {
        double[] turned = new double[ascending.length];
        for (int i = 0; i < turned.length; i++) {
            turned[i] = -ascending[turned.length - 1 - i];
        }
        return turned;
    }

    /**
     * The upper rail of {@code sign} times a channel; infinite where it has none.
     *
     * @param sorted that, ascending
     * @param others the other channel, ascending
     */
    private static double rail(double[] sorted, double[] others, double[] channel, double[] other, int sign) {
        int n = sorted.length;
        double top = sorted[n - 1 - n / WILD];
        double half = (top - sorted[n / WILD]) / 2;
        double width = Math.max(WIDTH * half, COUNTS * step(sorted, half));
        double rail = top - width;
        int first = from(sorted, rail);
        int next = first - from(sorted, rail - width);
        int beyond = n - from(sorted, top + width);
        int pile = n - beyond - first; // not all beyond the rail: noise has a long tail
        if (pile < FEWEST_AT_RAIL || pile < PILE * Math.max(1, next) || pile < BEYOND * beyond) {
            return Double.POSITIVE_INFINITY;
        }
        double[] at = across(channel, other, n, sign, rail, top + width);
        double radius = spread(others, 1.0 / WILD) / 2;
        boolean goesOn = spread(at, 0.05) / 2 >= 0.9 * WIDE * Math.sqrt(2 * width / half) * radius;
        return half > 0 && goesOn ? rail : Double.POSITIVE_INFINITY;
    }

    /** Index of the first value at or above. */
    private static int from(double[] sorted, double value) {
        int low = 0;
        int high = sorted.length;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (sorted[middle] < value) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }

    /** Ascending, of the other channel. */
    private static double[] across(double[] channel, double[] other, int n, int sign, double from, double to) {
        double[] at = new double[n];
        int count = 0;
        for (int i = 0; i < n; i++) {
            if (sign * channel[i] >= from && sign * channel[i] < to) {
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
