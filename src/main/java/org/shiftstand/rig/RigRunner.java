package org.shiftstand.rig;

import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.BooleanSupplier;
import java.util.function.Function;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.MessageCodec;
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

    private RigRunner() {}

    /**
     * Runs a plan to its end. The caller closes the link.
     *
     * <p>Any other exception is a defect of this program or of a monitor; it too comes after the cut.
     *
     * <p>Blocks for as long as the run takes. Bounded waits: 6 s for a rig that does not answer, 0.6 s a command, 60 s a
     * shift, 5 s without samples.
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
        refuse(link, plan.problems());
        Conversation rig = new Conversation(link, stop);
        RunHeader header;
        RigMessage.Identity identity;
        try {
            identity = rig.hello();
            refuse(link, problems(plan, identity));
            header = header(link, plan, identity);
        } catch (RunEnded e) {
            rig.cutAndStop();
            return e.end();
        } catch (RuntimeException | Error e) {
            rig.cutAndStop();
            throw e;
        }
        RunWriter writer;
        try {
            monitor.connected(identity);
            writer = writers.apply(header);
        } catch (RuntimeException | Error e) {
            rig.cutAndStop();
            throw e;
        }
        try (writer) {
            return record(link, rig, plan, header, identity, writer, monitor);
        }
    }

    private static RunEnd record(
            Link link,
            Conversation rig,
            RunPlan plan,
            RunHeader header,
            RigMessage.Identity identity,
            RunWriter writer,
            RunMonitor monitor) {
        Watches watches = new Watches(plan, identity.hallCounts(), header.currentAPerCount());
        int blockSize = samplesPerBlock(plan);
        Intake intake =
                new Intake(link, rig, writer, watches, new BlockLedger(blockSize), header.sampleIntervalNanos());
        rig.hears(intake);
        RunEnd end;
        try {
            rig.command(new HostMessage.Configure((int) plan.procedure().sampleRateHz(), blockSize));
            rig.command(limits(plan.guards()));
            int supplyMv = ScriptRun.millivolts(plan.supply().orElseThrow());
            rig.command(new HostMessage.Arm(supplyMv));
            rig.startHeartbeat();
            intake.armed(supplyMv);
            new ScriptRun(link, rig, intake, watches, plan, monitor).run();
            end = new RunEnd.Completed();
        } catch (RunEnded e) {
            end = e.end();
        } catch (RuntimeException | Error e) {
            leave(rig, intake, writer, e);
            throw e;
        }
        try {
            return finish(rig, intake, writer, monitor, end);
        } catch (RuntimeException | Error e) {
            leave(rig, intake, writer, e);
            throw e;
        }
    }

    /** After something went wrong here or on the disk: the unit first, then the record as far as it goes. */
    private static void leave(Conversation rig, Intake intake, RunWriter writer, Throwable cause) {
        rig.cutNow();
        intake.close();
        try {
            rig.cutAndStop();
        } catch (RuntimeException | Error second) {
            cause.addSuppressed(second);
        }
        try {
            writer.finish(
                    (cause instanceof UncheckedIOException ? "the record could not be written: " : "program error: ")
                            + cause);
        } catch (RuntimeException | Error second) { // a full disk is still full
            cause.addSuppressed(second);
        }
    }

    private static RunEnd finish(Conversation rig, Intake intake, RunWriter writer, RunMonitor monitor, RunEnd end) {
        boolean confirmed = rig.cutAndStop();
        RunEnd told = end;
        if (!confirmed) {
            String text = "the rig did not confirm that the supply is off; take the supply away by hand";
            monitor.notice(text);
            if (end instanceof RunEnd.Completed) {
                told = new RunEnd.RigFault(text);
            }
        }
        intake.note("end", 0, told.reason());
        intake.writeCounters();
        intake.close();
        writer.finish(told.reason());
        return told;
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

    private static List<String> problems(RunPlan plan, RigMessage.Identity rig) {
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

    private static HostMessage.Limits limits(Guards g) {
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

    private static int samplesPerBlock(RunPlan plan) {
        int eighth = (int) Math.max(1, plan.procedure().sampleRateHz() / BLOCKS_A_SECOND);
        return Math.min(MessageCodec.MOST_SAMPLES, eighth);
    }
}
