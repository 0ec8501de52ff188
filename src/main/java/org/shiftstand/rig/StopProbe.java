package org.shiftstand.rig;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
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

/** The emergency stop, pressed by a person while the unit has its supply and nothing moves. */
final class StopProbe {
    /** So long a person has to press it, seconds. */
    static final double PRESS_S = 60;

    private static final double RELEASE_S = 60;
    private static final double LOOK_AGAIN_S = 0.5;
    // rig/WIRE.md section 6: 10 ms from the stop to the supply's end, by the rig's own clock
    private static final double DUTY_MS = 10;
    // what is left in capacitors moves nothing
    private static final double OFF_V = 1;
    private static final double LOOK_S = 0.5;

    private final ProbeTalks talks;

    StopProbe(ProbeTalks talks) {
        this.talks = talks;
    }

    Finding run() {
        if (!talks.plan().askForStop()) {
            return new Finding(
                    Check.EMERGENCY_STOP, Result.NOT_MEASURED, "left out as asked: nobody was there to press it");
        }
        talks.monitor().phase("emergency stop");
        Finding found = pressed();
        if (found.result() != Result.NOT_MEASURED) {
            awaitRelease();
        }
        return found;
    }

    private Finding pressed() {
        RigSession talk = talks.atRest();
        try (talk) {
            talk.arm(talks.highMv());
            talks.monitor()
                    .ask(String.format(
                            Locale.ROOT,
                            "Press the emergency stop now, within %.0f s. The unit has its supply; nothing moves.",
                            PRESS_S));
            try {
                if (!talk.await(() -> ProbeTalks.pressed(talk), PRESS_S)) {
                    return new Finding(
                            Check.EMERGENCY_STOP,
                            Result.NOT_MEASURED,
                            String.format(Locale.ROOT, "nobody pressed it within %.0f s", PRESS_S));
                }
                talk.await(() -> talk.event(Event.Kind.SUPPLY_OFF, 0).isPresent(), LOOK_S);
            } catch (RunEnded e) {
                if (!ProbeTalks.pressed(talk)) {
                    throw e; // another fault, a lost line, or a person who wants to stop
                }
            }
            Instant at = Instant.EPOCH
                    .plus(talks.link().utcMicros(), ChronoUnit.MICROS)
                    .truncatedTo(ChronoUnit.SECONDS);
            return found(talk, at);
        }
    }

    private Finding found(RigSession talk, Instant at) {
        Event stop = talk.event(Event.Kind.EMERGENCY_STOP, 0).orElseThrow();
        Optional<Event> off = talk.event(Event.Kind.SUPPLY_OFF, stop.atMicros());
        if (off.isEmpty() || off.get().value() != RigSession.SUPPLY_BY_STOP) {
            return new Finding(
                    Check.EMERGENCY_STOP,
                    Result.ATTENTION,
                    "pressed at " + at + ", but the rig did not say that it cut the supply for it; do not run this rig",
                    Optional.of(at),
                    Map.of());
        }
        double ms = (off.get().atMicros() - stop.atMicros()) / 1e3;
        Map<String, Quantity> values = new LinkedHashMap<>();
        values.put("supply-off-after", ProbeTalks.rounded(ms, Unit.MS, 1));
        boolean intime = ms <= DUTY_MS;
        boolean dead = gone(talk, off.get().atMicros());
        String text = String.format(
                Locale.ROOT,
                "pressed at %s; supply off %.1f ms after it%s%s; good for 24 h",
                at,
                ms,
                intime ? "" : String.format(Locale.ROOT, ", at most %.0f ms are allowed", DUTY_MS),
                dead ? "" : ", but the supply that is measured stayed");
        return new Finding(
                Check.EMERGENCY_STOP, intime && dead ? Result.PASS : Result.ATTENTION, text, Optional.of(at), values);
    }

    /** Whether the measured supply went away too; true where the rig does not measure it, or says nothing any more. */
    private boolean gone(RigSession talk, long offMicros) {
        int microvolt = talks.rig().supplyMicrovoltPerCount();
        talk.listenAfterwards(LOOK_S);
        HallTrace trace = talk.trace();
        int last = trace.size() - 1;
        return microvolt == 0
                || last < 0
                || trace.micros(last) <= offMicros + 50_000
                || trace.counts(last, 3) * microvolt / 1e6 < OFF_V;
    }

    /** Until the rig can be talked to again: the stop is released and hello has ended the fault. */
    private void awaitRelease() {
        talks.monitor().ask("Thank you. Release the emergency stop now; the supply stays off.");
        long until = talks.link().now() + Math.round(RELEASE_S * 1e6);
        while (true) {
            Conversation rig = new Conversation(talks.link(), talks.stop());
            try {
                rig.hello();
                rig.waitUntil(talks.link().now() + Math.round(LOOK_AGAIN_S * 1e6)); // a fault that stands comes at once
                return;
            } catch (RunEnded e) {
                if (!(e.end() instanceof RunEnd.RigFault) || talks.link().now() >= until) {
                    throw e;
                }
                rig.listenAfterwards(Math.round(LOOK_AGAIN_S * 1e6));
            } finally {
                rig.cutAndStop();
            }
        }
    }
}
