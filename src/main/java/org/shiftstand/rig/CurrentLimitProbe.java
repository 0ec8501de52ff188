package org.shiftstand.rig;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.judge.HallTrace;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** Whether the rig's own current limit cuts: it is set far below what motion takes, a shift is asked for, and put back. */
final class CurrentLimitProbe {
    // far below the current of any motion, above that of electronics at rest; common practice, no published source
    private static final int LOW_MA = 100;
    private static final int FOR_MS = 20;
    // rig/WIRE.md section 6, beyond the limit's own time
    private static final double DUTY_MS = 10;
    private static final double WAIT_S = 3;
    private static final double MOST_SHIFT_S = 20;

    private final ProbeTalks talks;

    CurrentLimitProbe(ProbeTalks talks) {
        this.talks = talks;
    }

    Finding run() {
        Finding found = overrun();
        return found.result() == Result.PASS ? restored(found) : found;
    }

    private Finding overrun() {
        HostMessage.Limits usual = Probe.limits(talks.plan());
        HostMessage.Limits low = new HostMessage.Limits(
                LOW_MA,
                FOR_MS,
                usual.averageMa(),
                usual.averageMs(),
                usual.supplyMinMv(),
                usual.supplyMaxMv(),
                usual.onTimeS(),
                usual.temperatureDeciC());
        try (RigSession talk = talks.open(low, ProbeTalks.MOTION_HZ)) {
            try {
                talk.arm(talks.highMv());
                talk.listen(0.2);
                talk.request(1);
                talk.await(() -> talk.event(Event.Kind.SUPPLY_OFF, 0).isPresent(), WAIT_S);
            } catch (RunEnded e) {
                if (!(e.end() instanceof RunEnd.RigFault) || ProbeTalks.pressed(talk)) {
                    throw e;
                }
            }
            return found(talk);
        }
    }

    private static Finding found(RigSession talk) {
        Optional<Event> off = talk.event(Event.Kind.SUPPLY_OFF, 0);
        if (off.isEmpty()) {
            return new Finding(
                    Check.CURRENT_LIMIT,
                    talk.moved() ? Result.ATTENTION : Result.NOT_MEASURED,
                    talk.moved()
                            ? "set to " + LOW_MA + " mA for " + FOR_MS
                                    + " ms, and a whole shift did not trip it; do not run this rig"
                            : "the shift that was to pass the limit did not move");
        }
        boolean byCurrent = off.get().value() == RigSession.SUPPLY_BY_CURRENT
                && talk.event(Event.Kind.OVER_CURRENT, 0).isPresent();
        double ms = (off.get().atMicros() - firstAbove(talk, off.get().atMicros())) / 1e3;
        boolean intime = ms <= FOR_MS + DUTY_MS + talk.intervalS() * 1e3;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("limit", new Quantity(LOW_MA, Unit.MA));
        values.put("for", new Quantity(FOR_MS, Unit.MS));
        values.put("supply-off-after", ProbeTalks.rounded(ms, Unit.MS, 1));
        return ProbeTalks.finding(
                Check.CURRENT_LIMIT,
                byCurrent && intime,
                String.format(
                        Locale.ROOT,
                        "set to %d mA for %d ms; supply off %.1f ms after the current passed it%s%s",
                        LOW_MA,
                        FOR_MS,
                        ms,
                        intime ? "" : String.format(Locale.ROOT, ", at most %.0f ms expected", FOR_MS + DUTY_MS),
                        byCurrent ? "" : "; but the rig gives another cause than over-current"),
                values);
    }

    /** The sample at which the current passed the limit for good, before the supply went off, rig's clock. */
    private static long firstAbove(RigSession talk, long offMicros) {
        HallTrace trace = talk.trace();
        long first = offMicros;
        for (int i = trace.at(offMicros) - 1; i >= 0; i--) {
            if (trace.micros(i) >= offMicros) {
                continue;
            }
            if (trace.counts(i, 2) * talk.ampsPerCount() * 1e3 <= LOW_MA) {
                break;
            }
            first = trace.micros(i);
        }
        return first;
    }

    /** The usual limits again, and a shift that they let pass; the unit ends on sprocket 1. */
    private Finding restored(Finding found) {
        try (RigSession talk = talks.inMotion()) {
            talk.arm(talks.highMv());
            for (int direction : new int[] {1, -1, -1}) {
                talk.request(direction);
                talk.awaitRest(talks.quietS(), MotionProbe.START_S, MOST_SHIFT_S);
            }
            return new Finding(
                    found.check(),
                    found.result(),
                    found.text() + "; the usual limit, put back, let a shift pass",
                    found.at(),
                    found.values());
        } catch (RunEnded e) {
            if (e.end() instanceof RunEnd.RigFault fault && !fault.cause().contains("emergency")) {
                return new Finding(
                        found.check(),
                        Result.ATTENTION,
                        found.text() + "; but with the usual limit put back a shift did not pass: " + fault.cause(),
                        found.at(),
                        found.values());
            }
            throw e;
        }
    }
}
