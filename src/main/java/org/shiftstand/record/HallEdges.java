package org.shiftstand.record;

import java.util.Arrays;

/** Instants at which the sensors' power turned over, from events in any order. */
final class HallEdges {
    // On and off in the lowest bit, so that sorting by time needs no objects; long runs have many windows.
    private long[] marks = new long[64];
    private int size;

    /** @param nanos after the first sample of the run; magnitude at most 1e18 */
    void add(long nanos, boolean on) {
        if (size == marks.length) {
            marks = Arrays.copyOf(marks, size * 2);
        }
        marks[size++] = nanos * 2 + (on ? 1 : 0);
    }

    boolean any() {
        return size > 0;
    }

    /** What held before the first event: the opposite of what it says; on where no event says anything. */
    boolean onAtStart() {
        Arrays.sort(marks, 0, size);
        return size == 0 || (marks[0] & 1) == 0;
    }

    /** Each instant at which the state differs from the one before, ascending. */
    long[] edges() {
        boolean on = onAtStart();
        long[] edges = new long[size];
        int n = 0;
        for (int i = 0; i < size; i++) {
            boolean to = (marks[i] & 1) == 1;
            if (to != on) {
                edges[n++] = marks[i] >> 1;
                on = to;
            }
        }
        return Arrays.copyOf(edges, n);
    }
}
