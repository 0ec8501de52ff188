package org.shiftstand.shift;

import java.util.Arrays;

/** Peak current, charge and energy of one shift. */
final class CurrentMeter {
    /** How long after settling charge still counts, seconds. */
    static final double AFTER_S = 0.100;

    private final Trace trace;
    private final boolean hasCurrent;
    private final boolean hasSupply;

    CurrentMeter(Trace trace, boolean hasCurrent, boolean hasSupply) {
        this.trace = trace;
        this.hasCurrent = hasCurrent;
        this.hasSupply = hasSupply;
    }

    void notMeasured(RawShift shift, String reason) {
        shift.notMeasured(Measure.PEAK_CURRENT, reason);
        shift.notMeasured(Measure.CHARGE, reason);
        shift.notMeasured(Measure.ENERGY, reason);
    }

    /** Median over the first {@code spanS} of samples {@code first…last}, ampere; NaN without current. */
    double medianA(int first, int last, double spanS) {
        if (!hasCurrent || last < first) {
            return Double.NaN;
        }
        int end = first;
        while (end < last && trace.timeS[end + 1] - trace.timeS[first] <= spanS) {
            end++;
        }
        double[] x = Arrays.copyOfRange(trace.currentA, first, end + 1);
        return Selection.upperMedian(x, x.length);
    }

    /** Puts the three measures over {@code fromS…toS}; samples {@code first…last} are searched. */
    void measure(RawShift shift, int first, double fromS, double toS, int last) {
        if (!hasCurrent) {
            notMeasured(shift, "current was not captured");
            return;
        }
        if (Double.isNaN(fromS)) {
            notMeasured(shift, "the request is not known");
            return;
        }
        double peak = Double.NEGATIVE_INFINITY;
        double charge = 0;
        double energy = 0;
        boolean unsampled = false;
        boolean damaged = false;
        boolean reached = false;
        int start = Math.max(0, first - 1);
        while (start > 0 && trace.timeS[start] > fromS) {
            start--;
        }
        for (int i = start; i <= last && i < trace.size; i++) {
            double t = trace.timeS[i];
            if (t >= fromS && t <= toS) {
                peak = Math.max(peak, trace.currentA[i]);
            }
            if (i > start && t > fromS) {
                byte gap = trace.gap[i];
                if (gap == Trace.NONE) {
                    double t0 = Math.max(fromS, trace.timeS[i - 1]);
                    double t1 = Math.min(toS, t);
                    charge += area(i, t0, t1, false);
                    if (hasSupply) {
                        energy += area(i, t0, t1, true);
                    }
                } else {
                    Trace.LeftOut left = kept(i);
                    if (gap == Trace.GAP) {
                        damaged = true;
                    } else if (left != null) {
                        charge += left.chargeAs;
                        energy += left.energyJ;
                        peak = Math.max(peak, left.peakA);
                    }
                    unsampled |= gap == Trace.CLOCK || gap == Trace.WINDOW && !covers(left, i);
                }
            }
            if (t >= toS) {
                reached = true;
                break;
            }
        }
        if (damaged || Double.isInfinite(peak)) {
            notMeasured(shift, "samples missing in between");
            return;
        }
        shift.put(Measure.PEAK_CURRENT, peak);
        shift.put(Measure.CHARGE, charge);
        if (hasSupply) {
            shift.put(Measure.ENERGY, energy);
        } else {
            shift.notMeasured(Measure.ENERGY, "supply voltage was not captured");
        }
        if (unsampled) {
            shift.note("charge: the sensors were off in between, nothing was sampled there");
        } else if (!reached) {
            shift.note("charge: only up to the last sample, less than 100 ms after settling");
        }
    }

    private double area(int i, double t0, double t1, boolean energy) {
        double span = trace.timeS[i] - trace.timeS[i - 1];
        if (t1 <= t0 || span <= 0) {
            return 0;
        }
        double y0 = trace.currentA[i - 1] * (energy ? trace.supplyV[i - 1] : 1);
        double y1 = trace.currentA[i] * (energy ? trace.supplyV[i] : 1);
        double before = trace.timeS[i - 1];
        // all but the first step begin at a sample: no division there
        double at0 = t0 == before ? y0 : y0 + (y1 - y0) * (t0 - before) / span;
        double at1 = y0 + (y1 - y0) * (t1 - before) / span;
        return 0.5 * (at0 + at1) * (t1 - t0);
    }

    private Trace.@org.jspecify.annotations.Nullable LeftOut kept(int index) {
        for (Trace.LeftOut l : trace.leftOut) {
            if (l.index == index) {
                return l;
            }
        }
        return null;
    }

    private boolean covers(Trace.@org.jspecify.annotations.Nullable LeftOut left, int i) {
        return left != null && left.coveredS > 0.9 * (trace.timeS[i] - trace.timeS[i - 1]);
    }
}
