package org.shiftstand.rig;

import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;
import java.util.function.Function;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.Port;
import org.shiftstand.link.RigMessage;
import org.shiftstand.procedure.Action;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunWriter;

/**
 * Drives a unit through a procedure and records what it did.
 *
 * <p>One thread, one loop over the link. On every way out {@code cut} and {@code stop} are sent and, where the link
 * lives, confirmed, before the record is finished; also when the disk is full, the program is wrong or a person stops it.
 */
public final class RigRunner {
    private static final int BLOCKS_A_SECOND = 8;
    private static final long RETRY = 200_000; // between two tries to open a port that is gone

    private RigRunner() {}

    /**
     * Runs a plan to its end over one line; where that is lost the run ends. The caller closes the link.
     *
     * <p>Blocks for as long as the run takes. Bounded waits: 6 s for a rig that does not answer, 0.6 s a command, 60 s a
     * shift, 1 s of silence, 5 s without samples. An exception that is not named here is a defect of this program or of a
     * monitor; it too comes after the cut.
     *
     * @param writers makes the record once the rig has said who it is; called at most once
     * @param stop polled at each arrival and at least each 50 ms; true cuts the supply first of all
     * @return how it ended; the record, where the rig got so far as to say who it is, is finished with the same reason
     * @throws LinkException where there is no rig, another protocol version, or a plan that this rig cannot run; nothing
     *     was moved, no record made
     * @throws UncheckedIOException where the record cannot be written; the supply was cut
     */
    public static RunEnd run(
            Link link, RunPlan plan, Function<RunHeader, RunWriter> writers, RunMonitor monitor, BooleanSupplier stop) {
        return new Line(link, Optional.empty()).run(plan, Optional.empty(), writers, monitor, GoAhead.NOBODY, stop);
    }

    /**
     * Runs a plan, or goes on with one, over a port that may be lost and come back. Opens and closes the line itself.
     *
     * <p>As {@link #run(Link, RunPlan, Function, RunMonitor, BooleanSupplier)}. Where the procedure says {@code reconnect}, a
     * lost line is waited for with the supply off (the rig cuts it within a second of the last heartbeat); then, once the
     * go-ahead is given, the unit is homed and the script goes on with the action that was under way.
     *
     * @param goesOn where a run that was broken off goes on; empty to begin with the first action
     * @param writers given what is known of run and rig; for a run that goes on it opens its record to be continued
     */
    public static RunEnd run(
            Port port,
            RunPlan plan,
            Optional<Continuation> goesOn,
            Function<RunHeader, RunWriter> writers,
            RunMonitor monitor,
            GoAhead goAhead,
            BooleanSupplier stop) {
        Line line = new Line(port.open(), Optional.of(port));
        try {
            return line.run(plan, goesOn, writers, monitor, goAhead, stop);
        } finally {
            line.close();
        }
    }

    /** The line of a run: the link in use, and the port to open it anew where there is one. */
    static final class Line {
        private Link link;
        private final Optional<Port> port;

        Line(Link link, Optional<Port> port) {
            this.link = link;
            this.port = port;
        }

        Link link() {
            return link;
        }

        /** Gives the lost link back and tries to open another for so long; whether there is one. */
        boolean reopen(long withinMicros, BooleanSupplier stop) {
            Port place = port.orElseThrow();
            link.close();
            for (long waited = 0; waited <= withinMicros && !stop.getAsBoolean(); waited += RETRY) {
                try {
                    link = place.open();
                    return true;
                } catch (LinkException notYet) {
                    place.pause(RETRY);
                }
            }
            return false;
        }

        void close() {
            link.close();
        }

        private RunEnd run(
                RunPlan plan,
                Optional<Continuation> goesOn,
                Function<RunHeader, RunWriter> writers,
                RunMonitor monitor,
                GoAhead goAhead,
                BooleanSupplier stop) {
            refuse(link, plan.problems());
            Map<String, Long> counters =
                    new TreeMap<>(goesOn.map(Continuation::counters).orElse(Map.of()));
            Conversation rig = new Conversation(link, stop, counters);
            RigMessage.Identity identity;
            RunWriter writer;
            RunHeader header;
            try {
                identity = rig.hello();
                refuse(link, problems(plan, identity));
                header = header(link, plan, identity);
                monitor.connected(identity);
                writer = writers.apply(header);
            } catch (RunEnded e) {
                rig.cutAndStop();
                return e.end();
            } catch (RuntimeException | Error e) {
                rig.cutAndStop();
                throw e;
            }
            try (SessionWriter record = new SessionWriter(writer, goesOn)) {
                var run = new Run(
                        this, plan, header, identity, record, counters, monitor, goAhead, stop, port.isPresent());
                return run.all(rig, goesOn);
            }
        }
    }

    private static RunHeader header(Link link, RunPlan plan, RigMessage.Identity rig) {
        Map<String, String> facts = new LinkedHashMap<>();
        facts.put("rig", rig.rigName());
        facts.put("rig-firmware", rig.rigFirmware());
        if (!rig.unitFirmware().isEmpty()) {
            facts.put("unit-firmware", rig.unitFirmware());
        }
        facts.put("link", link.address());
        facts.putAll(plan.identity());
        return new RunHeader(
                plan.unit(),
                facts,
                plan.texts(),
                plan.textNames(),
                Math.round(1e9 / plan.procedure().sampleRateHz()),
                plan.currentScaleA().orElse(rig.currentMicroampPerCount() / 1e6),
                rig.supplyMicrovoltPerCount() / 1e6,
                link.utcMicros(),
                plan.simulated());
    }

    private static void refuse(Link link, List<String> problems) {
        if (!problems.isEmpty()) {
            throw new LinkException(link.address() + ": " + String.join("; ", problems) + ". Nothing was moved.");
        }
    }

    static List<String> problems(RunPlan plan, RigMessage.Identity rig) {
        List<String> problems = new ArrayList<>();
        if (plan.procedure().sampleRateHz() > rig.maxSampleRateHz()) {
            problems.add(String.format(
                    Locale.ROOT,
                    "the procedure asks for %s samples a second, the rig can take %d",
                    Watches.number(plan.procedure().sampleRateHz()),
                    rig.maxSampleRateHz()));
        }
        Guards guards = plan.guards();
        for (Action action : plan.actions()) {
            if (action instanceof Action.SetSupply s) {
                double most = Math.min(
                        rig.maxSupplyMv() / 1e3, guards.supplyMaxV() > 0 ? guards.supplyMaxV() : Double.MAX_VALUE);
                double least = guards.supplyMinV() > 0 ? guards.supplyMinV() : 0;
                if (!(s.volts() >= least && s.volts() <= most)) {
                    problems.add(String.format(
                            Locale.ROOT,
                            "the procedure sets the supply to %s V; rig and guards allow %s V to %s V",
                            Watches.number(s.volts()),
                            Watches.number(least),
                            Watches.number(most)));
                }
            }
        }
        return problems.stream().distinct().toList();
    }

    static HostMessage.Limits limits(Guards g) {
        return new HostMessage.Limits(
                scaled(g.currentA(), 1e3),
                scaled(g.currentForS(), 1e3),
                scaled(g.averageA(), 1e3),
                scaled(g.averageOverS(), 1e3),
                scaled(g.supplyMinV(), 1e3),
                scaled(g.supplyMaxV(), 1e3),
                scaled(g.onTimeS(), 1),
                scaled(g.temperatureC(), 10));
    }

    /** 0 (not asked for) where the guard is not set. */
    private static int scaled(double value, double by) {
        return value > 0 && value < Double.POSITIVE_INFINITY ? (int) Math.round(value * by) : 0;
    }

    static int samplesPerBlock(RunPlan plan) {
        int eighth = (int) Math.max(1, plan.procedure().sampleRateHz() / BLOCKS_A_SECOND);
        return Math.min(MessageCodec.MOST_SAMPLES, eighth);
    }
}
