package org.shiftstand.stats;

import java.util.Arrays;
import java.util.Comparator;
import java.util.stream.IntStream;

/**
 * The slopes of all pairs of points with unlike abscissas, in ascending order; any of them by its rank.
 *
 * <p>Up to {@value #LISTED} points they are listed, and a rank is found by parting the list: exact. Beyond, where the list
 * would not fit, a slope is found by halving the numbers between the smallest and the largest until none lies between; each
 * step counts the pairs below, in n log n. What it finds is off by rounding only: about a unit in the last place
 * of slope × span of the abscissas, over the distance of the nearest ones.
 */
final class PairSlopes {
    static final int LISTED = 1000;

    private final double[] x;
    private final double[] y;
    private final long count;
    private final double[] listed;

    PairSlopes(double[] x, double[] y) {
        int[] order = IntStream.range(0, x.length)
                .boxed()
                .sorted(Comparator.<Integer>comparingDouble(i -> x[i]).thenComparingDouble(i -> y[i]))
                .mapToInt(Integer::intValue)
                .toArray();
        this.x = Arrays.stream(order).mapToDouble(i -> x[i]).toArray();
        this.y = Arrays.stream(order).mapToDouble(i -> y[i]).toArray();
        int n = x.length;
        this.count = n * (n - 1L) / 2
                - Arrays.stream(Ordered.ties(x))
                        .mapToLong(t -> t * (t - 1L) / 2)
                        .sum();
        this.listed = n <= LISTED ? list() : new double[0];
    }

    /** How many there are. */
    long count() {
        return count;
    }

    /**
     * The slope of this rank.
     *
     * @param rank 1…count
     */
    double at(long rank) {
        return x.length <= LISTED ? select(Math.toIntExact(rank - 1)) : search(rank);
    }

    double median() {
        return (count & 1) == 1 ? at(count / 2 + 1) : (at(count / 2) + at(count / 2 + 1)) / 2;
    }

    private double[] list() {
        double[] slopes = new double[Math.toIntExact(count)];
        int k = 0;
        for (int i = 0; i < x.length; i++) {
            for (int j = i + 1; j < x.length; j++) {
                if (x[j] > x[i]) {
                    slopes[k++] = (y[j] - y[i]) / (x[j] - x[i]);
                }
            }
        }
        return slopes;
    }

    /** The value at this place, from 0, were the list sorted; parts the list about it. */
    private double select(int place) {
        int from = 0;
        int to = listed.length - 1;
        while (from < to) {
            double pivot = middle(listed[from], listed[(from + to) >>> 1], listed[to]);
            int left = from;
            int right = to;
            while (left <= right) {
                while (listed[left] < pivot) {
                    left++;
                }
                while (listed[right] > pivot) {
                    right--;
                }
                if (left <= right) {
                    double swap = listed[left];
                    listed[left++] = listed[right];
                    listed[right--] = swap;
                }
            }
            if (place <= right) {
                to = right;
            } else if (place >= left) {
                from = left;
            } else {
                return pivot;
            }
        }
        return listed[place];
    }

    private static double middle(double a, double b, double c) {
        return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    }

    /** The smallest number that so many slopes do not exceed. */
    private double search(long rank) {
        double steepest = steepest();
        long low = key(-steepest);
        long high = key(steepest);
        while (low < high) {
            long middle = Math.floorDiv(low, 2) + Math.floorDiv(high, 2) + (low & high & 1);
            if (upTo(number(middle)) >= rank) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        return number(low);
    }

    /** No slope is steeper. */
    private double steepest() {
        double nearest = Double.MAX_VALUE;
        for (int i = 1; i < x.length; i++) {
            nearest = x[i] > x[i - 1] ? Math.min(nearest, x[i] - x[i - 1]) : nearest;
        }
        double range = Arrays.stream(y).max().orElse(0) - Arrays.stream(y).min().orElse(0);
        return 2 * range / nearest;
    }

    /** How many slopes do not exceed b: pairs whose ordinates, less b times the abscissa, do not rise. */
    private long upTo(double b) {
        double[] level = new double[x.length];
        for (int i = 0; i < level.length; i++) {
            // within a set of alike abscissas ordinates ascend, so that no pair of such a set falls
            level[i] = y[i] - b * (x[i] - x[0]);
        }
        long unlike = x.length * (x.length - 1L) / 2;
        return unlike - Ordered.rising(level) - alike();
    }

    /** Pairs of points that are the same point: neither rising nor a slope. */
    private long alike() {
        long same = 0;
        int begin = 0;
        for (int i = 1; i <= x.length; i++) {
            if (i == x.length || x[i] != x[begin] || y[i] != y[begin]) {
                same += (i - begin) * (i - begin - 1L) / 2;
                begin = i;
            }
        }
        return same;
    }

    /** Whole numbers in the order of the doubles. */
    private static long key(double value) {
        long bits = Double.doubleToLongBits(value);
        return bits < 0 ? Long.MIN_VALUE - bits : bits;
    }

    private static double number(long key) {
        return Double.longBitsToDouble(key < 0 ? Long.MIN_VALUE - key : key);
    }
}
