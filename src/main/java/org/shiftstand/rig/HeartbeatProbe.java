package org.shiftstand.rig;

import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.quantity.Unit;

/** Whether the rig cuts by itself once the host falls silent. */
final class HeartbeatProbe {
    // rig/WIRE.md section 6
    private static final double LEAST_S = 0.9;
    private static final double MOST_S = 1.0;
    // the last heartbeat's own way to the rig, and a busy host's delay in sending it, count into what is seen here
    private static final double WAY_S = 0.05;
    private static final double TALK_S = 0.7;
    private static final double WAIT_S = 2.5;

    private final ProbeTalks talks;

    HeartbeatProbe(ProbeTalks talks) {
        this.talks = talks;
    }

    Finding run() {
        try (RigSession talk = talks.atRest()) {
            talk.arm(talks.highMv());
            talk.listen(TALK_S);
            talk.fallSilent();
            boolean off = talk.await(() -> talk.event(Event.Kind.SUPPLY_OFF, 0).isPresent(), WAIT_S);
            Optional<Event> event = talk.event(Event.Kind.SUPPLY_OFF, 0);
            if (!off || event.isEmpty()) {
                return new Finding(
                        Check.HEARTBEAT_CUT,
                        Result.ATTENTION,
                        String.format(
                                Locale.ROOT,
                                "no heartbeat for %.1f s, and the rig left the supply on; do not run this rig",
                                WAIT_S));
            }
            double seconds = (event.get().atMicros() - talk.lastBeatMicros()) / 1e6;
            boolean watchdog = event.get().value() == RigSession.SUPPLY_BY_WATCHDOG;
            boolean intime = seconds >= LEAST_S && seconds <= MOST_S + WAY_S;
            return ProbeTalks.finding(
                    Check.HEARTBEAT_CUT,
                    watchdog && intime,
                    String.format(
                            Locale.ROOT,
                            "supply off %.3f s after the last heartbeat left here%s%s",
                            seconds,
                            intime
                                    ? ""
                                    : String.format(
                                            Locale.ROOT,
                                            "; expected %.1f s to %.1f s, and %.0f ms for its way",
                                            LEAST_S,
                                            MOST_S,
                                            WAY_S * 1e3),
                            watchdog ? "" : "; but for another cause than the watchdog"),
                    Map.of("after", ProbeTalks.rounded(seconds, Unit.S, 3)));
        }
    }
}
