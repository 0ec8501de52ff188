package org.shiftstand.rig;

import java.io.UncheckedIOException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.MessageCodec;
import org.shiftstand.link.RigMessage;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.record.RunHeader;

/** One run into one record: a session, and another one each time that the line was lost and came back. */
final class Run {
    private static final long MICROS = 1_000_000;
    // a line that breaks at once each time is no line
    private static final int MOST_FRUITLESS = 3;

    private final RigRunner.Line line;
    private final RunPlan plan;
    private final RunHeader header;
    private final RigMessage.Identity identity;
    private final SessionWriter record;
    private final Map<String, Long> counters;
    private final RunMonitor monitor;
    private final GoAhead goAhead;
    private final BooleanSupplier stop;
    private final boolean mayReopen;
    private final Map<String, Integer> seen = new TreeMap<>();
    private int fruitless;
    private String givenUp = "";
    private boolean knownOff; // the supply, by the word of a rig that came back

    Run(
            RigRunner.Line line,
            RunPlan plan,
            RunHeader header,
            RigMessage.Identity identity,
            SessionWriter record,
            Map<String, Long> counters,
            RunMonitor monitor,
            GoAhead goAhead,
            BooleanSupplier stop,
            boolean mayReopen) {
        this.line = line;
        this.plan = plan;
        this.header = header;
        this.identity = identity;
        this.record = record;
        this.counters = counters;
        this.monitor = monitor;
        this.goAhead = goAhead;
        this.stop = stop;
        this.mayReopen = mayReopen;
    }

    /**
     * Loads what the ways out need before anything is powered: nothing is to be looked for on a disk that may be gone, in the
     * moment of the cut.
     */
    private static void loadWaysOut() {
        for (HostMessage message :
                List.of(new HostMessage.Cut(), new HostMessage.Stop(), new HostMessage.Heartbeat())) {
            MessageCodec.encode(message, 0);
        }
        for (RunEnd end : List.of(
                new RunEnd.StoppedByUser(),
                new RunEnd.RigFault(""),
                new RunEnd.LinkLost(""),
                new RunEnd.StoppedByRule(RunEnd.StoppedByRule.Rule.CURRENT, ""))) {
            new RunEnded(end).end();
        }
    }

    /** Session after session until the run is over; the record is finished then. */
    RunEnd all(Conversation first, Optional<Continuation> goesOn) {
        loadWaysOut();
        Conversation rig = first;
        int from = -1; // the beginning
        if (goesOn.isPresent()) {
            from = goesOn.get().action();
            record.join(line.link(), goesOn.get().cause());
        }
        while (true) {
            Session session = new Session(rig);
            RunEnd end = session.run(from);
            if (!(end instanceof RunEnd.LinkLost lost) || !mayGoOn(session, from)) {
                return finish(session, end);
            }
            Optional<Conversation> back = reconnect(session, lost);
            if (back.isEmpty()) {
                return finish(session, endAfter(lost));
            }
            from = session.script.place();
            rig = back.get();
            record.join(line.link(), "the line was lost: " + lost.cause());
        }
    }

    private boolean mayGoOn(Session session, int from) {
        fruitless = session.script.place() > from ? 0 : fruitless + 1;
        return mayReopen && reconnectS() > 0 && !stop.getAsBoolean() && fruitless < MOST_FRUITLESS;
    }

    private double reconnectS() {
        Procedure.OnLinkLoss policy = plan.procedure().onLinkLoss();
        return policy instanceof Procedure.OnLinkLoss.Reconnect r ? r.withinS() : 0;
    }

    private RunEnd endAfter(RunEnd.LinkLost lost) {
        return stop.getAsBoolean() ? StopWish.endOf(stop) : new RunEnd.LinkLost(lost.cause() + "; " + givenUp);
    }

    /** Leaves a session whose line is gone for the next; whatever goes wrong in between, the record is finished. */
    private Optional<Conversation> reconnect(Session session, RunEnd.LinkLost lost) {
        try {
            session.leaveLostLine(lost);
            return reconnect(lost);
        } catch (RuntimeException | Error e) {
            session.leave(e);
            throw e;
        }
    }

    /** The same rig on the same port, greeted, supply off, with the go-ahead to move; empty where that cannot be had. */
    private Optional<Conversation> reconnect(RunEnd.LinkLost lost) {
        double withinS = reconnectS();
        monitor.notice(
                "the line was lost (" + lost.cause() + "); the rig takes the supply away within a second. Waiting "
                        + Watches.number(withinS) + " s for it to come back");
        if (!line.reopen(Math.round(withinS * MICROS), stop)) {
            givenUp = "not back within " + Watches.number(withinS) + " s";
            return Optional.empty();
        }
        Conversation rig = new Conversation(line.link(), stop, counters);
        boolean goesOn = false;
        try {
            RigMessage.Identity now = rig.hello(); // takes the supply away, whatever was before
            givenUp = now.equals(identity)
                    ? ""
                    : "another rig or unit came back, or one with other firmware or scales: " + named(now)
                            + " instead of " + named(identity);
            if (givenUp.isEmpty()) {
                goesOn = goAhead.given("The line is back, the supply is off. To go on, the unit is homed.");
                givenUp = "it came back, and nobody said that the unit may move again";
            }
        } catch (LinkException e) {
            givenUp = "a port came back, but not the rig: " + e.getMessage();
        } catch (RunEnded e) {
            givenUp = "it came back and was lost again: " + e.getMessage();
        } finally {
            knownOff = !goesOn && rig.cutAndStop();
        }
        return goesOn ? Optional.of(rig) : Optional.empty();
    }

    private static String named(RigMessage.Identity rig) {
        return rig.rigName() + " (firmware '" + rig.rigFirmware() + "', unit firmware '" + rig.unitFirmware() + "')";
    }

    private RunEnd finish(Session session, RunEnd end) {
        try {
            return session.finish(end);
        } catch (RuntimeException | Error e) {
            session.leave(e);
            throw e;
        }
    }

    /** A stretch of the run over one link. */
    private final class Session {
        private final Conversation rig;
        private final Intake intake;
        private final ScriptRun script;
        private final int blockSize = RigRunner.samplesPerBlock(plan);

        Session(Conversation rig) {
            this.rig = rig;
            Link link = line.link();
            Watches watches = new Watches(plan, identity.hallCounts(), header.currentAPerCount());
            intake = new Intake(
                    link, rig, record, watches, new BlockLedger(blockSize, counters), header.sampleIntervalNanos());
            rig.hears(intake);
            long blockMicros = blockSize * header.sampleIntervalNanos() / 1000;
            script = new ScriptRun(link, rig, intake, watches, plan, monitor, seen, blockMicros);
        }

        /** @param from where to go on, −1 for the beginning */
        RunEnd run(int from) {
            try {
                rig.command(new HostMessage.Configure((int) plan.procedure().sampleRateHz(), blockSize));
                rig.command(RigRunner.limits(plan.guards()));
                if (from < 0) {
                    script.run();
                } else {
                    script.goOn(from);
                }
                return new RunEnd.Completed();
            } catch (RunEnded e) {
                return e.end();
            } catch (RuntimeException | Error e) {
                leave(e);
                throw e;
            }
        }

        /** What can still be said of a line that is gone: the rig cuts by itself. */
        void leaveLostLine(RunEnd.LinkLost lost) {
            rig.cutNow();
            intake.note("link-lost", 0, lost.cause());
            intake.writeCounters();
            intake.close();
        }

        /** After something went wrong here or on the disk: the unit first, then the record as far as it goes. */
        void leave(Throwable cause) {
            rig.cutNow();
            intake.close();
            try {
                rig.cutAndStop();
            } catch (RuntimeException | Error second) {
                cause.addSuppressed(second);
            }
            try {
                record.finish((cause instanceof UncheckedIOException
                                ? "the record could not be written: "
                                : "a defect of this program: ")
                        + cause.getMessage());
            } catch (RuntimeException | Error second) { // a full disk is still full
                cause.addSuppressed(second);
            }
        }

        RunEnd finish(RunEnd end) {
            boolean confirmed = knownOff || rig.cutAndStop();
            RunEnd told = end;
            if (!confirmed) {
                monitor.notice(RunEnd.CutNotConfirmed.TEXT);
                // where the line is gone nothing could be confirmed, and the rig cuts by itself
                told = end instanceof RunEnd.LinkLost ? end : new RunEnd.CutNotConfirmed(end);
            }
            intake.note("end", 0, told.reason());
            intake.writeCounters();
            intake.close();
            record.finish(told.reason());
            return told;
        }
    }
}
