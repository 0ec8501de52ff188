package org.shiftstand.stats;

/** The value that a list would have at a place, were it sorted; parts the list about it and no further. */
final class Parted {
    private Parted() {}

    /**
     * The value at a place; linear time on average.
     *
     * @param values reordered; no NaN, at least one
     * @param place from 0; taken to the nearest end where it lies outside
     */
    static double at(double[] values, int place) {
        int wanted = Math.max(0, Math.min(values.length - 1, place));
        int from = 0;
        int to = values.length - 1;
        while (from < to) {
            double pivot = middle(values[from], values[(from + to) >>> 1], values[to]);
            int left = from;
            int right = to;
            while (left <= right) {
                while (values[left] < pivot) {
                    left++;
                }
                while (values[right] > pivot) {
                    right--;
                }
                if (left <= right) {
                    double swap = values[left];
                    values[left++] = values[right];
                    values[right--] = swap;
                }
            }
            if (wanted <= right) {
                to = right;
            } else if (wanted >= left) {
                from = left;
            } else {
                return pivot;
            }
        }
        return values[wanted];
    }

    private static double middle(double a, double b, double c) {
        return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    }
}
