package org.shiftstand.shift;

/** Angles and durations of stays in a trace. */
final class Stays {
    /** The shortest stay that could be a plateau cut short. */
    private static final double SHORTEST_S = 0.030;

    private final Trace trace;
    private final double bandDeg;
    private final double dwellS;

    Stays(Trace trace, double bandDeg, double dwellS) {
        this.trace = trace;
        this.bandDeg = bandDeg;
        this.dwellS = dwellS;
    }

    /** The angle of a rest over samples {@code first…last}: median of the second half of its first two seconds. */
    double level(int first, int last) {
        return trace.median((first + end(first, last) + 1) / 2, end(first, last) + 1);
    }

    /** The last sample that the angle of a rest is taken from, where the rest counts from {@code from} on. */
    int end(Rest rest, int from) {
        int first = Math.max(0, rest.first);
        return end(rest.first < from && from <= rest.last ? from : first, rest.last);
    }

    private int end(int first, int last) {
        int end = first;
        double latest = trace.timeS[first] + ShiftMeasurer.REST_S;
        while (end < last && trace.timeS[end + 1] <= latest) {
            byte gap = trace.gap[end + 1];
            if ((gap == Trace.WINDOW || gap == Trace.CLOCK) && end > first) {
                break; // the next window tells of the next start, and of creep in between
            }
            end++;
        }
        return end;
    }

    /**
     * A stay of 30 ms up to the dwell, at least b beyond the landing: its first sample, or −1.
     *
     * <p>A stay is flat: within b/10 for 30 ms. The turning point of ringing is not, unless it is slower than 4 Hz.
     */
    int doubtful(int from, int to, double landingDeg, int sign) {
        int first = from;
        double min = trace.deg[from];
        double max = min;
        for (int i = from + 1; i < to; i++) {
            double x = trace.deg[i];
            boolean beyond = (x - landingDeg) * sign >= bandDeg;
            if (!beyond || trace.gap[i] > Trace.ELIDED) {
                first = i;
                min = x;
                max = x;
                continue;
            }
            min = Math.min(min, x);
            max = Math.max(max, x);
            while (max - min > bandDeg / 10 || (trace.deg[first] - landingDeg) * sign < bandDeg) {
                first++;
                min = x;
                max = x;
                for (int k = first; k < i; k++) {
                    min = Math.min(min, trace.deg[k]);
                    max = Math.max(max, trace.deg[k]);
                }
            }
            double stay = trace.timeS[i] - trace.timeS[first];
            if (stay >= SHORTEST_S && stay < dwellS) {
                return first;
            }
        }
        return -1;
    }

    /** Last entry into level ± band before the rest, to the first exit after it. */
    void hold(RawShift shift, Measure measure, Rest rest, int from, int to, double level, double band) {
        int in = Math.max(0, rest.first);
        while (in > from && Math.abs(trace.deg[in - 1] - level) <= band) {
            in--;
        }
        // a rest's samples lie within b/2 of its median, but its level may differ from that by the approach
        while (in < rest.last && Math.abs(trace.deg[in] - level) > band) {
            in++;
        }
        int out = rest.last + 1;
        while (out > in + 1 && Math.abs(trace.deg[out - 1] - level) > band) {
            out--;
        }
        while (out < to && Math.abs(trace.deg[out] - level) <= band) {
            out++;
        }
        byte worst = trace.worstGap(in - 1, out);
        if (worst == Trace.CLOCK) {
            shift.notMeasured(measure, "the clock stopped between windows");
        } else if (worst == Trace.GAP) {
            shift.notMeasured(measure, "samples missing at the plateau");
        } else if (worst == Trace.FAULT) {
            shift.notMeasured(measure, "sensor fault at the plateau");
        } else if (in == 0 || trace.gap[in] != Trace.NONE || out >= to || trace.gap[out] != Trace.NONE) {
            shift.notMeasured(measure, "it was entered or left while nothing was sampled");
        } else {
            double entered = trace.crossingS(in, level + (trace.deg[in - 1] > level ? band : -band));
            double left = trace.crossingS(out, level + (trace.deg[out] > level ? band : -band));
            shift.put(measure, left - entered);
        }
    }
}
