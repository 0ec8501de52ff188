package org.shiftstand.shift;

import java.util.Arrays;

/**
 * Medians by selection, in linear time: a tenth of the time of sorting, which showed in the benchmark. Values of a rest
 * come in no order, so that each comparison of the usual partition is a guess: many values are first counted in cells
 * of their range, and only those of the middle cell are compared with one another.
 */
final class Selection {
    private static final int CELLS = 256;
    /** Fewer values than this are not worth counting. */
    private static final int FEW = 40;
    /** Around the value in the middle of time a cell is so wide, degrees: a tenth of the noise of a 12-bit converter. */
    private static final double CELL_DEG = 0.01;

    /** Two counts that take turns: neighbours are often of one cell, and each count would wait for the one before. */
    private final int[] even = new int[CELLS];

    private final int[] odd = new int[CELLS];
    private double[] scratch = new double[1024];

    /** Median of {@code x[from…to − 1]}, degrees, at least one, none NaN; they are not changed. */
    double median(double[] x, int from, int to) {
        int n = to - from;
        if (n < FEW) {
            return copied(x, from, n);
        }
        double low = x[(from + to) >>> 1] - CELLS / 2 * CELL_DEG;
        double median = counted(x, from, to, low, 1 / CELL_DEG, 1);
        return Double.isNaN(median) ? ofAnyRange(x, from, to) : median;
    }

    private double ofAnyRange(double[] x, int from, int to) {
        double min = x[from];
        double max = min;
        for (int i = from; i < to; i++) {
            double value = x[i];
            min = value < min ? value : min;
            max = value > max ? value : max;
        }
        double perUnit = CELLS / (max - min);
        if (!(perUnit < Double.POSITIVE_INFINITY) || !(perUnit > 0)) {
            return copied(x, from, to - from); // all alike, or too far apart for a number
        }
        return counted(x, from, to, min, perUnit, 0);
    }

    /**
     * Counts values by cell, and looks for the middle one in its cell.
     *
     * @param outer how many cells at either end hold also what lies beyond: the median cannot be told there
     * @return NaN where it cannot be told
     */
    private double counted(double[] x, int from, int to, double low, double perUnit, int outer) {
        Arrays.fill(even, 0);
        Arrays.fill(odd, 0);
        int pairsEnd = to - 1;
        int i = from;
        for (; i < pairsEnd; i += 2) {
            even[cell(x[i], low, perUnit)]++;
            odd[cell(x[i + 1], low, perUnit)]++;
        }
        if (i < to) {
            even[cell(x[i], low, perUnit)]++;
        }
        int n = to - from;
        int middle = n / 2;
        int below = 0;
        int cell = 0;
        while (below + even[cell] + odd[cell] <= middle) {
            below += even[cell] + odd[cell];
            cell++;
        }
        int first = cell;
        if (n % 2 == 0 && below == middle) {
            // the value before the middle one lies some cells lower
            do {
                first--;
                below -= even[first] + odd[first];
            } while (even[first] + odd[first] == 0);
        }
        if (first < outer || cell >= CELLS - outer) {
            return Double.NaN;
        }
        reserve(n);
        int kept = gather(x, from, to, low, perUnit, first, cell);
        return middleOf(scratch, kept, middle - below, n % 2 == 1);
    }

    private static int cell(double value, double low, double perUnit) {
        return Math.min(CELLS - 1, Math.max(0, (int) ((value - low) * perUnit)));
    }

    /** Copies the values of some cells to the scratch; returns how many there are. */
    private int gather(double[] x, int from, int to, double low, double perUnit, int first, int last) {
        double[] near = scratch;
        int kept = 0;
        for (int i = from; i < to; i++) {
            double value = x[i];
            int cell = cell(value, low, perUnit);
            near[kept] = value;
            kept += 1 - ((cell - first | last - cell) >>> 31); // no branch: it would be a guess
        }
        return kept;
    }

    private double copied(double[] x, int from, int n) {
        reserve(n);
        System.arraycopy(x, from, scratch, 0, n);
        return median(scratch, n);
    }

    private void reserve(int n) {
        if (scratch.length < n) {
            scratch = new double[Math.max(n, 2 * scratch.length)];
        }
    }

    /** Median of the first {@code n} values, at least one, none NaN; their order is lost. */
    static double median(double[] x, int n) {
        return middleOf(x, n, n / 2, n % 2 == 1);
    }

    /** The upper one of the two in the middle, where there are two; else as {@link #median(double[], int)}. */
    static double upperMedian(double[] x, int n) {
        return select(x, n, n / 2);
    }

    /** The value that sorting would put at {@code middle}, or its mean with the one before. */
    private static double middleOf(double[] x, int n, int middle, boolean odd) {
        double upper = select(x, n, middle);
        if (odd) {
            return upper;
        }
        double lower = x[0];
        for (int i = 1; i < middle; i++) {
            lower = x[i] > lower ? x[i] : lower; // not Math.max: it also cares for NaN, which showed
        }
        return 0.5 * (lower + upper);
    }

    /** The value that sorting would put at {@code k}; those before it end up not above it. */
    private static double select(double[] x, int n, int k) {
        int low = 0;
        int high = n - 1;
        while (low < high) {
            double a = x[low];
            double b = x[(low + high) >>> 1];
            double c = x[high];
            double pivot = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
            int i = low;
            int j = high;
            while (i <= j) {
                while (x[i] < pivot) {
                    i++;
                }
                while (x[j] > pivot) {
                    j--;
                }
                if (i <= j) {
                    double swap = x[i];
                    x[i] = x[j];
                    x[j] = swap;
                    i++;
                    j--;
                }
            }
            if (k <= j) {
                high = j;
            } else if (k >= i) {
                low = i;
            } else {
                return x[k];
            }
        }
        return x[k];
    }
}
