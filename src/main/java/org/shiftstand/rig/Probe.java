package org.shiftstand.rig;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Finding;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage.Identity;

/**
 * Probes a rig: what it says of itself, what its channels are worth, and whether everything that must cut the supply
 * does.
 *
 * <p>What protects is tried first and at rest (emergency stop, heartbeat), only then does anything move. Each part is a
 * talk of its own, from hello to stop, so that one that ends in a fault does not reach into the next. Moves the unit by
 * shift requests, about twenty shifts. Leaves the supply off on every way out. An emergency stop that nobody was asked
 * for ends the probe; where the stop or the heartbeat does not cut as it must, nothing is moved.
 */
public final class Probe {
    private final Link link;
    private final ProbePlan plan;
    private final ProbeMonitor monitor;
    private final BooleanSupplier stop;
    private final List<Finding> findings = new ArrayList<>();

    private Probe(Link link, ProbePlan plan, ProbeMonitor monitor, BooleanSupplier stop) {
        this.link = link;
        this.plan = plan;
        this.monitor = monitor;
        this.stop = stop;
    }

    /**
     * Probes. Blocks for one to three minutes, of which a person takes up to two at the emergency stop.
     *
     * @param stop polled at least each 50 ms; true cuts the supply and ends the probe
     * @throws LinkException where there is no rig, or it speaks another protocol version
     */
    public static ProbeEnd run(Link link, ProbePlan plan, ProbeMonitor monitor, BooleanSupplier stop) {
        return new Probe(link, plan, monitor, stop).run();
    }

    private ProbeEnd run() {
        Instant at = Instant.EPOCH.plus(link.utcMicros(), ChronoUnit.MICROS).truncatedTo(ChronoUnit.SECONDS);
        Identity rig;
        try {
            rig = identity();
        } catch (RunEnded e) {
            return new ProbeEnd(Optional.empty(), e.end());
        }
        RunEnd end = new RunEnd.Completed();
        ProbeTalks talks = new ProbeTalks(link, plan, rig, monitor, stop);
        try {
            monitor.phase("what the rig says of itself");
            findings.addAll(StatedFindings.of(rig, plan.description()));
            monitor.phase("supply, at rest");
            findings.addAll(new SupplyProbe(talks).run());
            findings.add(new StopProbe(talks).run());
            monitor.phase("heartbeat cut");
            findings.add(new HeartbeatProbe(talks).run());
            if (protects()) {
                monitor.phase("shifts, cut and coast");
                new MotionProbe(talks).run(findings);
                monitor.phase("current limit");
                findings.add(new CurrentLimitProbe(talks).run());
            }
        } catch (RunEnded e) {
            end = e.end();
        }
        if (end instanceof RunEnd.StoppedByUser) {
            return new ProbeEnd(Optional.empty(), told(end, talks));
        }
        return new ProbeEnd(Optional.of(report(rig, at, end)), told(end, talks));
    }

    /** Where the line is gone nothing could be confirmed, and the rig cuts by itself. */
    private static RunEnd told(RunEnd end, ProbeTalks talks) {
        return talks.cutConfirmed() || end instanceof RunEnd.LinkLost ? end : new RunEnd.CutNotConfirmed(end);
    }

    private boolean protects() {
        return findings.stream()
                .filter(f -> f.check() == Check.EMERGENCY_STOP || f.check() == Check.HEARTBEAT_CUT)
                .noneMatch(f -> f.result() == Result.ATTENTION);
    }

    /** Who is there; the supply is off before and after. */
    private Identity identity() {
        Conversation rig = new Conversation(link, stop);
        try {
            return rig.hello();
        } finally {
            rig.cutAndStop();
        }
    }

    private ProbeReport report(Identity rig, Instant at, RunEnd end) {
        List<Finding> all = new ArrayList<>();
        for (Check check : Check.values()) {
            all.add(findings.stream()
                    .filter(f -> f.check() == check)
                    .findFirst()
                    .orElseGet(() -> new Finding(check, Result.NOT_MEASURED, notReached(end), Map.of())));
        }
        return new ProbeReport(
                rig.rigName(),
                rig.rigFirmware(),
                plan.unit(),
                rig.unitFirmware(),
                rig.drive() == 1 ? "direct" : "requests",
                at,
                plan.tool(),
                all);
    }

    private String notReached(RunEnd end) {
        if (!end.reason().isEmpty()) {
            return "the probe ended before it: " + end.reason();
        }
        return protects()
                ? "was not reached"
                : "nothing was moved, since emergency stop or heartbeat do not cut as they must";
    }

    /** Limits that the rig enforces while it is probed. */
    static HostMessage.Limits limits(ProbePlan plan) {
        return RigRunner.limits(plan.guards());
    }
}
