package org.shiftstand.rig;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** How long a cut in the middle of a motion takes, and how far the shaft runs on. */
final class CutFindings {
    /** Below this a motor moves nothing that it could not be held against: a sixth of what stalls a small drive. */
    private static final double DEAD_A = 0.1;

    // rig/WIRE.md section 6 allows the rig 10 ms; the rest is for the line, a busy host and the shaft's inductance
    private static final double MOST_MS = 50;
    // a sprocket's pitch: farther, and a cut may carry the chain over the next sprocket
    private static final double MOST_COAST_DEG = 720;
    // the spread of landings is a fifth of this, a turn four times as much: which turn it is cannot be mistaken
    private static final double NEAR_HOME_DEG = 90;
    private static final int WAKE_UP = 3; // samples that sensors need after power-up
    private static final int REST = 60;
    private static final int SPEED = 8; // samples over which the speed at the cut is taken

    private final RigSession talk;
    private final long homeMicros;
    private final long commandMicros;
    private long endMicros;

    /**
     * @param homeMicros the shaft rested on sprocket 1 then, for the first time
     * @param commandMicros the cut is commanded now; rig's clock, never late
     */
    CutFindings(RigSession talk, long homeMicros, long commandMicros) {
        this.talk = talk;
        this.homeMicros = homeMicros;
        this.commandMicros = commandMicros;
    }

    /** What follows belongs to another motion. */
    void isOver() {
        endMicros = talk.lastMicros();
    }

    private Optional<Event> off() {
        return talk.event(Event.Kind.SUPPLY_OFF, commandMicros);
    }

    /** From the command to a current that stays below 0.1 A; told before anything moves again. */
    Finding latency() {
        Optional<Event> off = off();
        if (off.isEmpty()) {
            return new Finding(
                    Check.CUT_LATENCY,
                    Result.ATTENTION,
                    "the rig accepted the cut and did not say that the supply is off; do not run this rig");
        }
        if (talk.ampsPerCount() <= 0) {
            return new Finding(Check.CUT_LATENCY, Result.NOT_MEASURED, "the rig does not measure the current");
        }
        HallTrace trace = talk.trace();
        int dead = trace.size();
        while (dead > 0
                && trace.micros(dead - 1) > commandMicros
                && Math.abs(trace.counts(dead - 1, 2)) * talk.ampsPerCount() < DEAD_A) {
            dead--;
        }
        if (dead == trace.size()) {
            return new Finding(
                    Check.CUT_LATENCY,
                    Result.ATTENTION,
                    "the current was still above 0.1 A 1.2 s after the cut; do not run this rig");
        }
        double ms = (trace.micros(dead) - commandMicros) / 1e3;
        double ofRig = (trace.micros(dead) - off.get().atMicros()) / 1e3;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("command-to-dead", ProbeTalks.rounded(ms, Unit.MS, 1));
        values.put("supply-off-to-dead", ProbeTalks.rounded(ofRig, Unit.MS, 1));
        boolean quick = ms <= MOST_MS;
        return ProbeTalks.finding(
                Check.CUT_LATENCY,
                quick,
                String.format(
                        Locale.ROOT,
                        "current below 0.1 A %.1f ms after the command left here, %.1f ms after the rig's supply-off, each"
                                + " to within %.1f ms%s",
                        ms,
                        ofRig,
                        talk.intervalS() * 1e3,
                        quick ? "" : String.format(Locale.ROOT, "; at most %.0f ms expected", MOST_MS)),
                values);
    }

    /** How far the shaft went after the supply was off; once the unit is home again. */
    Finding coast() {
        Optional<Event> off = off();
        if (off.isEmpty()) {
            return new Finding(Check.COAST, Result.NOT_MEASURED, "the rig did not say when the supply went off");
        }
        HallTrace trace = talk.trace();
        HallTrace.Angles angles = trace.decode();
        double first = rest(trace, angles, homeMicros);
        double last = rest(trace, angles, talk.lastMicros());
        double turns = Math.rint((first - last) / angles.cycleDeg()) * angles.cycleDeg();
        if (!(Math.abs(first - last - turns) <= NEAR_HOME_DEG)) {
            return new Finding(
                    Check.COAST,
                    Result.NOT_MEASURED,
                    "homing after the cut ended elsewhere than homing before it, so that whole turns are not known");
        }
        int at = trace.at(off.get().atMicros());
        int before = at - 1;
        while (before > SPEED && !angles.good(before)) {
            before--;
        }
        int wake = trace.at(endMicros);
        while (wake < trace.size() && !angles.good(wake)) {
            wake++;
        }
        boolean throughout = wake < trace.size() && at < trace.size() && allGood(angles, before, wake);
        wake += throughout ? 0 : WAKE_UP;
        if (before <= SPEED || wake + WAKE_UP >= trace.size()) {
            return new Finding(Check.COAST, Result.NOT_MEASURED, "no angles around the cut");
        }
        double speed = (angles.deg(before) - angles.deg(before - SPEED))
                / ((trace.micros(before) - trace.micros(before - SPEED)) / 1e6);
        double atCut = angles.deg(before) + speed * (off.get().atMicros() - trace.micros(before)) / 1e6;
        // where the sensors stayed on nothing was lost, and no turns need to be put right
        double rested = angles.median(wake, wake + WAKE_UP) + (throughout ? 0 : turns);
        double coast = (rested - atCut) * Math.signum(speed);
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("coast", ProbeTalks.rounded(coast, Unit.DEG, 1));
        boolean little = Math.abs(coast) <= MOST_COAST_DEG;
        return ProbeTalks.finding(
                Check.COAST,
                little,
                String.format(
                        Locale.ROOT,
                        "%.0f deg after the supply was off, at %.0f deg/s%s%s",
                        coast,
                        Math.abs(speed),
                        throughout ? "" : "; seen when the sensors were next on, whole turns by homing",
                        little
                                ? ""
                                : String.format(
                                        Locale.ROOT,
                                        "; more than %.0f deg may reach the next sprocket",
                                        MOST_COAST_DEG)),
                values);
    }

    private static boolean allGood(HallTrace.Angles angles, int from, int to) {
        for (int i = from; i < to; i++) {
            if (!angles.good(i)) {
                return false;
            }
        }
        return true;
    }

    private static double rest(HallTrace trace, HallTrace.Angles angles, long micros) {
        int[] rest = MotionProbe.restBefore(trace, angles, micros, REST);
        return angles.median(rest[0], rest[1]);
    }
}
