package org.shiftstand.rig;

import java.util.Arrays;

/** Stretches of time, added in their order, and how much of any window of a given length they fill at most. */
final class Stretches {
    private double[] fromS = new double[64];
    private double[] toS = new double[64];
    private int n;

    /** Adds a stretch; nothing where it does not count or is empty. What touches the last one is joined to it. */
    void add(double from, double to, boolean counts) {
        if (!counts || !(to > from)) {
            return;
        }
        if (n > 0 && from <= toS[n - 1]) {
            toS[n - 1] = to;
            return;
        }
        if (n == fromS.length) {
            fromS = Arrays.copyOf(fromS, 2 * n);
            toS = Arrays.copyOf(toS, 2 * n);
        }
        fromS[n] = from;
        toS[n++] = to;
    }

    /**
     * Seconds at most in any window of this length.
     *
     * <p>The fill of a moving window is largest where its end meets the end of a stretch, or its beginning the beginning of
     * one: anywhere else moving it by a little does not lessen it.
     */
    double mostWithin(double windowS) {
        double most = 0;
        double before = 0; // all of the stretches before the first that is in the window
        double upTo = 0; // all up to the one under way
        int first = 0;
        for (int i = 0; i < n; i++) {
            upTo += toS[i] - fromS[i];
            double start = toS[i] - windowS;
            while (toS[first] <= start) {
                before += toS[first] - fromS[first];
                first++;
            }
            most = Math.max(most, upTo - before - Math.max(0, start - fromS[first]));
        }
        return Math.max(most, fromBeginnings(windowS));
    }

    private double fromBeginnings(double windowS) {
        double most = 0;
        double upTo = 0; // all of the stretches that end within the window
        double before = 0;
        int next = 0;
        for (int i = 0; i < n; i++) {
            double end = fromS[i] + windowS;
            while (next < n && toS[next] <= end) {
                upTo += toS[next] - fromS[next];
                next++;
            }
            double part = next < n ? Math.max(0, end - fromS[next]) : 0;
            most = Math.max(most, upTo - before + part);
            before += toS[i] - fromS[i];
        }
        return most;
    }
}
