package org.shiftstand.shift;

/** Request, start, motion start and wake-up error: how a shift leaves the rest before it. */
final class Departure {
    private final Trace trace;
    private final double bandDeg;
    private final boolean gated;

    Departure(Trace trace, double bandDeg, boolean gated) {
        this.trace = trace;
        this.bandDeg = bandDeg;
        this.gated = gated;
    }

    /** Puts request, start, motion start, wake-up error; returns the first sample outside start ± b, or −1. */
    int measure(Span span, RawShift shift) {
        shift.requestS = span.requestS();
        Rest before = span.before();
        if (before == null || before.last < Math.max(0, before.first)) { // or nothing of it was left by a cut in it
            String reason = span.request().isEmpty()
                    ? "the capture starts in the motion"
                    : "the shaft was moving at the request";
            putRequest(shift, "the capture starts in the motion");
            shift.notMeasured(Measure.START, reason);
            shift.notMeasured(Measure.MOTION_START, reason);
            shift.notMeasured(Measure.CREEP, reason);
            wakeUp(shift, -1, -1);
            shift.left = true;
            return Math.max(span.from(), 0);
        }
        int end = before.last + 1;
        int window = windowBefore(end, Math.max(0, before.first));
        int lead = leadIn(before, window, end);
        double level = trace.median(lead, end);
        int leave = firstOutside(Math.max(span.from(), end - 1), span.to(), level, bandDeg);
        int onset = leave < 0 ? end : onset(leave, lead, level);
        if (onset - lead >= 2) {
            level = trace.median(lead, onset);
            leave = firstOutside(Math.max(span.from(), lead), span.to(), level, bandDeg);
        }
        shift.startDeg = level;
        shift.put(Measure.START, level);
        if (leave >= 0) {
            shift.left = true;
            if (leave > 0 && trace.gap[leave] == Trace.NONE) {
                shift.put(Measure.MOTION_START, trace.crossingS(leave, level + bandDeg * side(leave, level)));
            } else {
                shift.notMeasured(Measure.MOTION_START, "it had left the start before the sensors were on");
            }
            if (Double.isNaN(shift.requestS) && span.request().isEmpty()) {
                shift.requestS = onsetS(onset, level, leave);
            }
        } else {
            shift.notApplicable(Measure.MOTION_START);
        }
        putRequest(shift, "nothing tells when it was asked for");
        wakeUp(shift, window, onset);
        return leave;
    }

    private void putRequest(RawShift shift, String reason) {
        if (Double.isNaN(shift.requestS)) {
            shift.notMeasured(Measure.REQUEST, reason);
        } else {
            shift.put(Measure.REQUEST, shift.requestS);
        }
    }

    /** First sample of the window that sample {@code end} − 1 lies in, not before {@code first}; −1 where no window opened. */
    private int windowBefore(int end, int first) {
        for (int i = end - 1; i >= first; i--) {
            if (trace.gap[i] == Trace.WINDOW || trace.gap[i] == Trace.CLOCK) {
                return i;
            }
            for (Trace.PowerUp p : trace.powerUps) {
                if (p.index == i) {
                    return i;
                }
            }
        }
        return -1;
    }

    /** Where the resting samples before the motion begin. */
    private int leadIn(Rest before, int window, int end) {
        if (window >= 0 && end - window >= 4) {
            return window;
        }
        int first = Math.max(0, before.first);
        double earliest = trace.timeS[end - 1] - ShiftMeasurer.REST_S;
        while (first < end - 1 && trace.timeS[first] < earliest) {
            first++;
        }
        return (first + end) / 2 < end ? (first + end) / 2 : first;
    }

    private int firstOutside(int from, int to, double level, double band) {
        for (int i = Math.max(0, from); i < to; i++) {
            if (Math.abs(trace.deg[i] - level) > band && !strayWakeUp(i, level, band)) {
                return i;
            }
        }
        return -1;
    }

    /** The first sample after a power-up may be wild: one that the next one does not confirm is no motion. */
    private boolean strayWakeUp(int i, double level, double band) {
        return trace.gap[i] != Trace.NONE && i + 1 < trace.size && Math.abs(trace.deg[i + 1] - level) <= band;
    }

    private int side(int index, double level) {
        return trace.deg[index] > level ? 1 : -1;
    }

    private int onset(int leave, int lead, double level) {
        int i = leave;
        while (i > lead && Math.abs(trace.deg[i - 1] - level) > bandDeg / 20) {
            i--;
        }
        return i;
    }

    private double onsetS(int onset, double level, int leave) {
        if (onset <= 0 || trace.gap[onset] != Trace.NONE) {
            return trace.timeS[Math.max(0, onset)];
        }
        return trace.crossingS(onset, level + bandDeg / 20 * side(leave, level));
    }

    private void wakeUp(RawShift shift, int window, int onset) {
        if (!gated) {
            shift.notApplicable(Measure.WAKE_UP_ERROR);
        } else if (window < 0) {
            shift.notMeasured(Measure.WAKE_UP_ERROR, "no sensor power-up before the motion");
        } else if (onset - window - 1 < 4) {
            shift.notMeasured(Measure.WAKE_UP_ERROR, "fewer than 4 resting samples after the sensor power-up");
        } else {
            shift.put(Measure.WAKE_UP_ERROR, trace.deg[window] - trace.median(window + 1, onset));
        }
    }
}
