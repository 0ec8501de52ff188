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

    /**
     * Each instant at which the state differs from the one before, ascending.
     *
     * @param sessionNanos when each session after the first begins, ascending: what held before the break says nothing of
     *     it, so that there too the opposite of its first event holds; off where it has none, since the unit was without supply
     */
    long[] edges(long[] sessionNanos) {
        boolean on = onAtStart();
        long[] edges = new long[size + sessionNanos.length];
        int n = 0;
        int session = 0;
        for (int i = 0; i <= size && size > 0; i++) {
            long at = i < size ? marks[i] >> 1 : Long.MAX_VALUE;
            for (; session < sessionNanos.length && sessionNanos[session] <= at; session++) {
                long next = session + 1 < sessionNanos.length ? sessionNanos[session + 1] : Long.MAX_VALUE;
                boolean begins = at < next && i < size && (marks[i] & 1) == 0;
                if (begins != on) {
                    edges[n++] = sessionNanos[session];
                    on = begins;
                }
            }
            if (i < size && (marks[i] & 1) == 1 != on) {
                edges[n++] = at;
                on = !on;
            }
        }
        return Arrays.copyOf(edges, n);
    }
}
