package org.shiftstand.angle;

/**
 * Range of a channel that a few wild values do not widen: between the {@value #KEPT}th lowest and the {@value #KEPT}th
 * highest value so far; while there are fewer, between the lowest and the highest.
 */
final class Extremes {
    private static final int KEPT = 8;

    /** Ascending; the first {@code held} are valid. */
    private final double[] highest = new double[KEPT];
    /** Ascending negatives of the lowest values. */
    private final double[] lowest = new double[KEPT];

    private int held;

    /** Takes a value; whether the range may have changed. */
    boolean add(double value) {
        if (held < KEPT) {
            insert(highest, held, value);
            insert(lowest, held, -value);
            held++;
            return true;
        }
        if (value > highest[0]) {
            replaceFirst(highest, value);
            return true;
        }
        if (-value > lowest[0]) {
            replaceFirst(lowest, -value);
            return true;
        }
        return false;
    }

    double low() {
        return -lowest[held < KEPT ? held - 1 : 0];
    }

    double high() {
        return highest[held < KEPT ? held - 1 : 0];
    }

    private static void insert(double[] ascending, int held, double value) {
        int i = held;
        while (i > 0 && ascending[i - 1] > value) {
            ascending[i] = ascending[i - 1];
            i--;
        }
        ascending[i] = value;
    }

    private static void replaceFirst(double[] ascending, double value) {
        int i = 0;
        while (i + 1 < KEPT && ascending[i + 1] < value) {
            ascending[i] = ascending[i + 1];
            i++;
        }
        ascending[i] = value;
    }
}
