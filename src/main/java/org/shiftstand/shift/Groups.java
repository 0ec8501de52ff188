package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Measures motions that may belong together, in the ways they may be grouped, where nothing was marked. */
final class Groups {
    /** Long beside the first samples of a departure, short beside a slow approach. */
    private static final double LATE_S = 0.1;

    private final Trace trace;
    private final ShiftMeasurer measurer;
    private final double bandDeg;
    private final boolean profiled;

    Groups(Trace trace, ShiftMeasurer measurer, double bandDeg, boolean profiled) {
        this.trace = trace;
        this.measurer = measurer;
        this.bandDeg = bandDeg;
        this.profiled = profiled;
    }

    /**
     * Every grouping where a profile may choose, else the usual one.
     *
     * @param rests the rest before, and those reached
     * @param ratios of each motion but the first to the one before
     * @param to first sample that belongs to none of them
     */
    Chain measure(List<Rest> rests, List<Double> ratios, int to) {
        int n = rests.size() - 1;
        RawShift[] groups = new RawShift[n * n];
        boolean damaged = false;
        for (int i = 0; i < n; i++) {
            for (int j = i; j < n; j++) {
                if (profiled || Chain.usual(ratios, i, j, n)) {
                    RawShift group = measurer.measure(span(rests, i, j, to));
                    groups[i * n + j] = group;
                    damaged |= group.turnUncertain;
                }
            }
        }
        Chain chain = new Chain(n, groups, List.copyOf(ratios), profiled && !damaged);
        for (int j = 0; j + 1 < n; j++) {
            mayHideReturn(chain.endings(j), rests.get(j + 1), rests.get(j + 2));
        }
        return chain;
    }

    /**
     * Says so where the motion from one rest to the next is damaged: it may be the return of what landed, and not a shift of
     * its own.
     */
    void mayHideReturn(List<RawShift> landed, Rest landing, Rest next) {
        int damaged = trace.firstDamaged(landing.last, next.first);
        if (damaged >= 0) {
            for (RawShift shift : landed) {
                shift.seenAfterLandingS = trace.timeS[landing.last] - trace.timeS[Math.max(0, landing.first)];
                shift.damagedNext = trace.evidence(damaged);
            }
        }
    }

    private Span span(List<Rest> rests, int i, int j, int to) {
        Rest before = rests.get(i);
        int end = j + 2 == rests.size() ? to : Math.min(to, quietEnd(rests.get(j + 1)));
        return new Span(
                before,
                new ArrayList<>(rests.subList(i + 1, j + 2)),
                Math.max(0, before.last),
                end,
                Optional.empty(),
                powerUpBefore(before),
                Span.Ending.RESTED);
    }

    /** The sensor power-up that opened the motion out of a rest; NaN where there is none. */
    double powerUpBefore(Rest rest) {
        double at = Double.NaN;
        for (Trace.PowerUp p : trace.powerUps) {
            if (p.index <= rest.last + 1 && p.index >= rest.first) {
                at = p.atS;
            }
        }
        return at;
    }

    /**
     * Where a shift that ends in this rest has its last samples: before the sensors are powered up for the next, and
     * without the first samples of the departure, which are still within b/2.
     */
    int quietEnd(Rest rest) {
        int end = rest.last + 1;
        for (Trace.PowerUp p : trace.powerUps) {
            if (p.index > Math.max(0, rest.first)) {
                end = Math.min(end, p.index);
            }
        }
        if (end <= rest.last) {
            return end;
        }
        double late = lateLevel(rest);
        while (end > rest.first + 1 && end > 1 && Math.abs(trace.deg[end - 1] - late) > bandDeg / 20) {
            end--;
        }
        return end;
    }

    /** Where the shaft lay at the rest's end: a slow approach may have begun the rest some degrees away from it. */
    private double lateLevel(Rest rest) {
        int from = rest.last;
        double earliest = trace.timeS[rest.last] - LATE_S;
        while (from > Math.max(0, rest.first) && trace.timeS[from - 1] >= earliest) {
            from--;
        }
        return trace.median(from, rest.last + 1);
    }
}
