package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Measures one span of a trace on the track as decoded.
 *
 * <p>The angle of a rest is the median of the second half of its first {@value #REST_S} s: the first half still holds
 * the approach, which would pull a short rest by half a degree. Motion starts where the angle leaves start ± b; its
 * onset, needed for the start and where nothing else tells the request, is the last time within start ± b/20 before.
 */
final class ShiftMeasurer {
    /** How much of a rest counts for its angle, seconds. */
    static final double REST_S = 2.0;

    /** Three times the noise of a 12-bit converter. */
    private static final double GRAZING_DEG = 0.3;

    private static final double END_CURRENT_S = 0.050;

    /**
     * No shaft makes a whole turn from rest to rest in less, seconds: it would have to turn 7200 deg/s on average; common
     * practice, no published source.
     */
    private static final double UNSEEN_TURN_S = 0.050;

    private final double unseenTurnS;

    private final Trace trace;
    private final double bandDeg;
    private final Stays stays;
    private final CurrentMeter current;
    private final Departure departure;

    ShiftMeasurer(
            Trace trace,
            double cycleDeg,
            double bandDeg,
            double dwellS,
            boolean gated,
            boolean hasCurrent,
            boolean hasSupply) {
        this.unseenTurnS = UNSEEN_TURN_S * cycleDeg / 360;
        this.trace = trace;
        this.bandDeg = bandDeg;
        this.departure = new Departure(trace, bandDeg, gated);
        this.stays = new Stays(trace, bandDeg, dwellS);
        this.current = new CurrentMeter(trace, hasCurrent, hasSupply);
    }

    RawShift measure(Span span) {
        RawShift shift = new RawShift();
        shift.request = span.request();
        shift.ending = span.ending();
        boolean startsInside = span.before() == null && span.request().isEmpty();
        boolean endsInside = span.ending() == Span.Ending.CAPTURE_END || span.ending() == Span.Ending.BROKEN_OFF;
        shift.evidence = startsInside || endsInside ? Evidence.PARTIAL : Evidence.COMPLETE;
        int leave = departure.measure(span, shift);
        int damage = damage(span, shift);
        shift.damagedRest = span.request().isEmpty() ? damageOf(span.before()) : null;
        if (damage >= 0 && leave >= damage) {
            shift.left = false;
            shift.forget(Measure.MOTION_START);
        }
        if (damage >= 0) {
            String reason = shift.evidence == Evidence.SENSOR_FAULT
                    ? "sensor fault in the shift"
                    : "samples missing in the shift";
            landing(span, shift);
            if (mayHideTheShift(span, damage)) {
                shift.startDeg = Double.NaN; // what was taken for the start may lie behind the motion
                shift.notMeasured(Measure.START, reason);
                shift.notMeasured(Measure.CREEP, reason);
            }
            shift.motionSign = (int) Math.signum(shift.landingDeg - shift.startDeg);
            fill(shift, reason);
            return shift;
        }
        landing(span, shift);
        Rest landing = span.landing();
        if (leave < 0) {
            unmoved(span, shift, landing);
        } else if (landing == null) {
            withoutRest(span, shift, leave);
        } else {
            moved(span, shift, leave, landing);
        }
        return shift;
    }

    // ---- damage

    /**
     * Sets the evidence; returns the first sample after damage, or −1.
     *
     * <p>What counts lies between the request and the end of the samples that the landing is taken from; where it did not
     * come to rest, up to the first sample that no longer belongs to the shift: it may have in what is missing before it.
     */
    private int damage(Span span, RawShift shift) {
        Rest landing = span.landing();
        boolean interrupted = span.ending() == Span.Ending.NEXT_REQUEST || span.ending() == Span.Ending.SUPPLY_CUT;
        int end = landing == null || interrupted
                ? span.to() + 1
                : Math.min(span.to(), stays.end(landing, span.from()) + 1);
        int first = -1;
        for (int i = Math.max(1, firstAfterRequest(span, shift)); i < end && i < trace.size; i++) {
            if (trace.gap[i] < Trace.FAULT) {
                continue;
            }
            first = first < 0 ? i : first;
            shift.turnUncertain |= !insideRest(span, i) || mayHideTheShift(span, i);
        }
        if (first >= 0) {
            shift.damaged = true;
            shift.evidence = trace.evidence(first);
        } else if (landing != null
                && shift.left
                && shift.evidence == Evidence.COMPLETE
                && clockStopsIn(startOfMotion(span), landing.first + 1)) {
            shift.evidence = Evidence.CLOCK_STOPPED;
        }
        return first;
    }

    private @Nullable Evidence damageOf(@Nullable Rest rest) {
        int damaged = rest == null ? -1 : trace.firstDamaged(rest.first, rest.last);
        return damaged < 0 ? null : trace.evidence(damaged);
    }

    private int firstAfterRequest(Span span, RawShift shift) {
        Rest before = span.before();
        if (span.request().isPresent() || before == null) {
            return span.from();
        }
        int i = before.last + 1;
        while (i > Math.max(1, before.first) && trace.timeS[i - 1] >= shift.requestS) {
            i--;
        }
        return i;
    }

    private int startOfMotion(Span span) {
        Rest before = span.before();
        return before == null ? span.from() : before.last;
    }

    private boolean clockStopsIn(int from, int to) {
        for (int i = Math.max(0, from) + 1; i < to && i < trace.size; i++) {
            if (trace.gap[i] == Trace.CLOCK) {
                return true;
            }
        }
        return false;
    }

    /** Rests electrical turns apart look like one: damage in the rest that the shift starts from may be all of its motion. */
    private boolean mayHideTheShift(Span span, int index) {
        Rest before = span.before();
        return span.request().isPresent()
                && before != null
                && before.holds(index)
                && trace.timeS[index] - trace.timeS[index - 1] > unseenTurnS;
    }

    private static boolean insideRest(Span span, int index) {
        Rest before = span.before();
        if (before != null && before.holds(index)) {
            return true;
        }
        return span.rests().stream().anyMatch(r -> r.holds(index));
    }

    // ---- landing and what follows from it

    private void landing(Span span, RawShift shift) {
        Rest landing = span.landing();
        if (landing == null) {
            return;
        }
        int first = Math.max(landing == span.before() ? span.from() : landing.first, 0);
        int last = Math.min(landing.last, span.to() - 1);
        if (last < first) {
            first = Math.max(0, landing.first);
            last = landing.last;
        }
        shift.landingDeg = stays.level(first, last);
        shift.endCurrentA = current.medianA(first, last, END_CURRENT_S);
    }

    private void unmoved(Span span, RawShift shift, @Nullable Rest landing) {
        if (landing == null) {
            String reason = why(span);
            fill(shift, reason);
            return;
        }
        shift.put(Measure.LANDING, shift.landingDeg);
        int until = Math.min(span.to(), trace.size) - 1;
        if (Double.isNaN(shift.requestS)) {
            current.notMeasured(shift, "nothing tells when it was asked for");
        } else {
            current.measure(shift, span.from(), shift.requestS, trace.timeS[Math.max(0, until)], until);
        }
        for (Measure m : Measure.values()) {
            if (!shift.has(m)) {
                shift.notApplicable(m);
            }
        }
        shift.forget(Measure.CREEP);
        shift.forget(Measure.CLEARANCE);
        shift.forget(Measure.LANDING_ERROR);
        shift.extremeDeg = Double.NaN;
    }

    private void withoutRest(Span span, RawShift shift, int leave) {
        shift.motionSign = signOfMotion(leave, span.to(), shift);
        fill(shift, why(span));
    }

    private static String why(Span span) {
        return switch (span.ending()) {
            case NEXT_REQUEST -> "the next request came before it rested";
            case SUPPLY_CUT -> "the supply was cut before it rested";
            case NEVER_RESTED, RESTED -> "it never settled";
            case CAPTURE_END -> "the capture ends in the shift";
            case BROKEN_OFF -> RawShift.BROKEN_OFF;
        };
    }

    private void moved(Span span, RawShift shift, int leave, Rest landing) {
        double land = shift.landingDeg;
        int sign = signOfMotion(leave, span.to(), shift);
        shift.motionSign = sign;
        shift.put(Measure.LANDING, land);
        int end = Math.min(landing.last + 1, span.to());
        double extreme = farthest(leave, end, sign);
        shift.extremeDeg = extreme;
        shift.put(Measure.EXTREME, extreme);
        travelTime(shift, span, leave, end, sign);
        double settledS = settled(shift, span, landing, leave);
        Rest plateau = plateau(span, shift, sign);
        if (plateau == null) {
            int doubtful = stays.doubtful(leave, Math.max(leave, landing.first), land, sign);
            if (doubtful >= 0) {
                String reason = String.format(
                        Locale.ROOT, "a stay shorter than the dwell at %.6f s may be a plateau", trace.timeS[doubtful]);
                for (Measure m : List.of(
                        Measure.OVERTRAVEL,
                        Measure.PLATEAU,
                        Measure.HOLD,
                        Measure.REST_HOLD,
                        Measure.RINGING,
                        Measure.RETURN_RINGING)) {
                    shift.notMeasured(m, reason);
                }
            } else {
                shift.put(Measure.OVERTRAVEL, 0);
                shift.put(Measure.RINGING, Math.max(0, (extreme - land) * sign));
                shift.notApplicable(Measure.PLATEAU);
                shift.notApplicable(Measure.HOLD);
                shift.notApplicable(Measure.REST_HOLD);
                shift.notApplicable(Measure.RETURN_RINGING);
            }
        } else {
            plateauMeasures(span, shift, plateau, leave, end, sign);
        }
        if (Double.isNaN(settledS)) {
            current.notMeasured(shift, "it cannot be said when it had settled");
        } else {
            current.measure(shift, span.from(), shift.requestS, settledS + CurrentMeter.AFTER_S, span.to() - 1);
        }
    }

    private void plateauMeasures(Span span, RawShift shift, Rest plateau, int leave, int end, int sign) {
        double level = stays.level(Math.max(0, plateau.first), plateau.last);
        shift.put(Measure.PLATEAU, level);
        shift.put(Measure.OVERTRAVEL, (level - shift.landingDeg) * sign);
        Rest first = span.rests().get(0);
        double firstLevel = first == plateau ? level : stays.level(Math.max(0, first.first), first.last);
        shift.put(Measure.RINGING, Math.max(0, (farthest(leave, first.last + 1, sign) - firstLevel) * sign));
        double back = farthest(plateau.last + 1, end, -sign);
        shift.put(Measure.RETURN_RINGING, Math.max(0, (shift.landingDeg - back) * sign));
        stays.hold(shift, Measure.HOLD, plateau, leave, end, level, bandDeg);
        stays.hold(shift, Measure.REST_HOLD, plateau, leave, end, level, bandDeg / 2);
    }

    /** The farthest rest at least b beyond the landing; the others go to the notes. */
    private @Nullable Rest plateau(Span span, RawShift shift, int sign) {
        Rest best = null;
        List<Rest> others = new ArrayList<>();
        int last = span.rests().size() - 1; // the landing; a window in which all is still has no rest at all
        for (Rest r : span.rests().subList(0, Math.max(0, last))) {
            boolean beyond = (r.levelDeg - shift.landingDeg) * sign >= bandDeg;
            if (beyond && (best == null || (r.levelDeg - best.levelDeg) * sign > 0)) {
                if (best != null) {
                    others.add(best);
                }
                best = r;
            } else {
                others.add(r);
            }
        }
        for (Rest r : others) {
            shift.note(String.format(
                    Locale.ROOT,
                    "plateau: another rest, %.1f deg from the landing",
                    (stays.level(Math.max(0, r.first), r.last) - shift.landingDeg) * sign));
        }
        return best;
    }

    private void travelTime(RawShift shift, Span span, int leave, int end, int sign) {
        double land = shift.landingDeg;
        if (Double.isNaN(shift.requestS)) {
            shift.notMeasured(Measure.TRAVEL_TIME, "the request is not known");
            return;
        }
        if (span.before() != null && !((land - shift.startDeg) * sign > bandDeg)) {
            shift.notApplicable(Measure.TRAVEL_TIME);
            return;
        }
        double level = land - bandDeg * sign;
        for (int i = leave; i < end; i++) {
            if ((trace.deg[i] - level) * sign >= 0) {
                if (i == 0 || trace.gap[i] > Trace.ELIDED) {
                    shift.notMeasured(Measure.TRAVEL_TIME, "it was reached while nothing was sampled");
                } else if (clockStopsIn(requestIndex(span, leave), i + 1)) {
                    shift.notMeasured(Measure.TRAVEL_TIME, "the clock stopped between windows");
                } else {
                    shift.put(Measure.TRAVEL_TIME, trace.crossingS(i, level) - shift.requestS);
                }
                return;
            }
        }
        shift.notMeasured(Measure.TRAVEL_TIME, "the landing was not seen to be reached");
    }

    /** The first sample whose clock can be compared with the request. */
    private int requestIndex(Span span, int leave) {
        int i = Math.max(0, span.from());
        while (i < leave && trace.timeS[i] < span.requestS()) {
            i++;
        }
        return Math.min(i, leave);
    }

    private double settled(RawShift shift, Span span, Rest landing, int leave) {
        double land = shift.landingDeg;
        // slow ringing may begin the rest still outside the landing's band
        int i = Math.max(Math.max(0, landing.first), Math.min(stays.end(landing, span.from()), span.to() - 1));
        while (i > leave && Math.abs(trace.deg[i - 1] - land) <= bandDeg) {
            i--;
        }
        String reason = null;
        if (i == 0 || trace.gap[i] > Trace.ELIDED) {
            reason = "the landing was reached while nothing was sampled";
        } else if (clockStopsIn(requestIndex(span, leave), i + 1)) {
            reason = "the clock stopped between windows";
        }
        if (reason != null) {
            shift.notMeasured(Measure.SETTLED, reason);
            shift.notMeasured(Measure.SETTLE_TIME, reason);
            return i == 0 ? Double.NaN : trace.timeS[i];
        }
        if (grazes(i, leave, Math.min(landing.last, span.to() - 1), land)) {
            shift.note("settle: ringing that comes within 0.3 deg of the band's edge decides when it settled");
        }
        double edge = land + (trace.deg[i - 1] > land ? bandDeg : -bandDeg);
        double settledS = trace.crossingS(i, edge);
        shift.put(Measure.SETTLED, settledS);
        if (Double.isNaN(shift.requestS)) {
            shift.notMeasured(Measure.SETTLE_TIME, "the request is not known");
        } else {
            shift.put(Measure.SETTLE_TIME, settledS - shift.requestS);
        }
        return settledS;
    }

    /** Whether the last excursion only just left the band, or one after it only just did not. */
    private boolean grazes(int entry, int leave, int last, double land) {
        double peak = 0;
        int i = entry - 1;
        while (i > leave && Math.abs(trace.deg[i] - land) > bandDeg) {
            peak = Math.max(peak, Math.abs(trace.deg[i] - land));
            i--;
        }
        if (i > leave && peak < bandDeg + GRAZING_DEG) {
            return true;
        }
        boolean inside = false;
        for (int k = entry; k <= last; k++) {
            double off = Math.abs(trace.deg[k] - land);
            inside |= off < bandDeg - 3 * GRAZING_DEG;
            if (inside && off > bandDeg - GRAZING_DEG) {
                return true;
            }
        }
        return false;
    }

    private int signOfMotion(int from, int to, RawShift shift) {
        double start = Double.isNaN(shift.startDeg) ? trace.deg[Math.max(0, from)] : shift.startDeg;
        double most = 0;
        for (int i = Math.max(0, from); i < to && i < trace.size; i++) {
            double x = trace.deg[i] - start;
            if (Math.abs(x) > Math.abs(most)) {
                most = x;
            }
        }
        return most < 0 ? -1 : 1;
    }

    /** Farthest sample; the first of a sensing window is left out: its wake-up error is no excursion, and the shaft rests. */
    private double farthest(int from, int to, int sign) {
        double best = trace.deg[Math.max(0, from)];
        for (int i = Math.max(0, from); i < to; i++) {
            boolean waking = trace.gap[i] == Trace.WINDOW || trace.gap[i] == Trace.CLOCK;
            if (!waking && (trace.deg[i] - best) * sign > 0) {
                best = trace.deg[i];
            }
        }
        return best;
    }

    private static void fill(RawShift shift, String reason) {
        for (Measure m : Measure.values()) {
            if (!shift.has(m) && m != Measure.CREEP && m != Measure.CLEARANCE && m != Measure.LANDING_ERROR) {
                shift.notMeasured(m, reason);
            }
        }
        if (!shift.has(Measure.CREEP) && Double.isNaN(shift.startDeg)) {
            shift.notMeasured(Measure.CREEP, reason);
        }
        shift.notMeasured(Measure.CLEARANCE, reason);
        shift.notMeasured(Measure.LANDING_ERROR, reason);
    }
}
