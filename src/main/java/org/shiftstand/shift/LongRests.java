package org.shiftstand.shift;

import org.shiftstand.angle.AngleBlock;

/** Keeps the trace small while the shaft rests for long: only a rest's beginning and its latest samples are kept. */
final class LongRests {
    private final Trace trace;
    private final RestFinder finder;
    private final SensingWindow window;
    private final int tailSamples;

    LongRests(Trace trace, RestFinder finder, SensingWindow window, int tailSamples) {
        this.trace = trace;
        this.finder = finder;
        this.window = window;
        this.tailSamples = tailSamples;
    }

    /** First sample after those that the angle of the rest is taken from. */
    int headEnd(Rest rest) {
        int i = Math.max(0, rest.first);
        double until = trace.timeS[i] + ShiftMeasurer.REST_S;
        while (i < trace.size && trace.timeS[i] <= until) {
            i++;
        }
        return i;
    }

    /** Leaves out samples {@code from…to − 1}, inside of the rest that lasts. */
    void elide(Rest rest, int from, int to) {
        if (to > from) {
            rest.last -= trace.elide(from, to);
            finder.elided(from, to);
            window.elided(from, to);
        }
    }

    /** Passes over what a block holds of the rest without copying it; returns where to go on. */
    int skip(AngleBlock block, int from, int to, Rest rest, int head) {
        boolean longAlready = trace.size - head >= tailSamples;
        if (rest.last != trace.size - 1 || !longAlready) {
            return from;
        }
        double low = finder.lowDeg();
        double high = finder.highDeg();
        double[] deg = block.angleDeg;
        int i = from;
        while (i < to && deg[i] >= low && deg[i] <= high) {
            i++;
        }
        int skip = i - tailSamples - from;
        if (skip <= 0) {
            return from;
        }
        elide(rest, head, trace.size);
        trace.appendAfterSkipping(block, from, skip, i);
        rest.last = trace.size - 1;
        finder.skippedTo(trace.size);
        return i;
    }
}
