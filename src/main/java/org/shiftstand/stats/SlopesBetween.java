package org.shiftstand.stats;

import java.util.Arrays;

/**
 * The slopes of pairs of points that lie between two slopes, found without looking at the other pairs.
 *
 * <p>Seen along the lower slope and along the upper one, two points change their order just where the slope of their pair
 * lies between; merge sort from the one order into the other meets each such pair once, in n log n and one step a pair
 * (the duality of R. Cole, J. Salowe, W. Steiger, E. Szemerédi, SIAM J. Comput. 18, 1989, cited from memory).
 */
final class SlopesBetween {
    private final double[] x;
    private final double[] y;
    private final double[] lower;
    private final double[] upper;
    private final int[] room;
    private double[] found = new double[1024];
    private int size;

    private SlopesBetween(double[] x, double[] y, double low, double high) {
        this.x = x;
        this.y = y;
        this.lower = levels(x, y, low);
        this.upper = levels(x, y, high);
        this.room = new int[x.length];
    }

    /**
     * Slopes above {@code low}, up to {@code high}, in no order, without those that are level; pairs of alike abscissas have
     * none, nor have those that rounding cannot tell from {@code low}.
     *
     * @param x abscissas, ascending
     * @param y ordinates, ascending where abscissas are alike
     */
    static double[] list(double[] x, double[] y, double low, double high) {
        SlopesBetween between = new SlopesBetween(x, y, low, high);
        int[] order = new int[x.length];
        Arrays.setAll(order, i -> i);
        between.sort(order, 0, order.length);
        between.cross(order, 0, order.length);
        return Arrays.copyOf(between.found, between.size);
    }

    /** Ordinates as seen along a slope. */
    static double[] levels(double[] x, double[] y, double slope) {
        double[] level = new double[x.length];
        for (int i = 0; i < level.length; i++) {
            // within a set of alike abscissas ordinates ascend, so that no pair of such a set falls
            level[i] = y[i] - slope * (x[i] - x[0]);
        }
        return level;
    }

    /** Places by their lower level; alike ones by the upper, so that they do not cross. */
    private void sort(int[] order, int from, int to) {
        if (to - from < 2) {
            return;
        }
        int middle = (from + to) >>> 1;
        sort(order, from, middle);
        sort(order, middle, to);
        int left = from;
        int right = middle;
        for (int k = from; k < to; k++) {
            boolean fromLeft = right == to || (left < middle && !after(order[left], order[right]));
            room[k] = fromLeft ? order[left++] : order[right++];
        }
        System.arraycopy(room, from, order, from, to - from);
    }

    private boolean after(int i, int j) {
        return lower[i] > lower[j] || (lower[i] == lower[j] && upper[i] > upper[j]);
    }

    /** Sorts on by the upper level, and takes each pair that changes its order. */
    private void cross(int[] order, int from, int to) {
        if (to - from < 2) {
            return;
        }
        int middle = (from + to) >>> 1;
        cross(order, from, middle);
        cross(order, middle, to);
        int left = from;
        int right = middle;
        for (int k = from; k < to; k++) {
            boolean fromLeft = right == to || (left < middle && upper[order[left]] < upper[order[right]]);
            if (!fromLeft) {
                take(order, left, middle, order[right]);
            }
            room[k] = fromLeft ? order[left++] : order[right++];
        }
        System.arraycopy(room, from, order, from, to - from);
    }

    private void take(int[] order, int from, int to, int j) {
        if (size + to - from > found.length) {
            found = Arrays.copyOf(found, Math.max(2 * found.length, size + to - from));
        }
        for (int k = from; k < to; k++) {
            int i = order[k];
            if (x[i] != x[j] && y[i] != y[j] && lower[i] != lower[j]) {
                found[size++] = (y[j] - y[i]) / (x[j] - x[i]);
            }
        }
    }
}
