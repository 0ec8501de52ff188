package org.shiftstand.stats;

/** Pairs of a sequence by how their values lie, counted without looking at each pair. */
final class Ordered {
    private Ordered() {}

    /**
     * How many pairs i &lt; j have {@code values[j] > values[i]}. Merge sort, n log n.
     *
     * @param values not changed; no NaN
     */
    static long rising(double[] values) {
        return rising(values.clone(), new double[values.length], 0, values.length);
    }

    private static long rising(double[] a, double[] room, int from, int to) {
        if (to - from < 2) {
            return 0;
        }
        int middle = (from + to) >>> 1;
        long pairs = rising(a, room, from, middle) + rising(a, room, middle, to);
        int left = from;
        int right = middle;
        for (int k = from; k < to; k++) {
            boolean fromLeft = right == to || (left < middle && a[left] < a[right]);
            if (fromLeft) {
                pairs += to - right; // all that is left on the right is larger than this one
            }
            room[k] = fromLeft ? a[left++] : a[right++];
        }
        System.arraycopy(room, from, a, from, to - from);
        return pairs;
    }

    /** Sizes of the sets of alike values, only those of two and more. */
    static int[] ties(double[] values) {
        double[] sorted = values.clone();
        java.util.Arrays.sort(sorted);
        int[] sizes = new int[sorted.length / 2];
        int sets = 0;
        int begin = 0;
        for (int i = 1; i <= sorted.length; i++) {
            if (i == sorted.length || sorted[i] != sorted[begin]) {
                if (i - begin > 1) {
                    sizes[sets++] = i - begin;
                }
                begin = i;
            }
        }
        return java.util.Arrays.copyOf(sizes, sets);
    }

    /** Ranks 1…n; alike values share the mean of theirs. */
    static double[] ranks(double[] values) {
        double[] sorted = values.clone();
        java.util.Arrays.sort(sorted);
        double[] ranks = new double[values.length];
        for (int i = 0; i < ranks.length; i++) {
            int below = edge(sorted, values[i], false);
            int upTo = edge(sorted, values[i], true);
            ranks[i] = (below + 1 + upTo) / 2.0;
        }
        return ranks;
    }

    /** How many sorted values lie below this one, or up to it. */
    private static int edge(double[] sorted, double value, boolean orAlike) {
        int low = 0;
        int high = sorted.length;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (sorted[middle] < value || (orAlike && sorted[middle] == value)) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return low;
    }
}
