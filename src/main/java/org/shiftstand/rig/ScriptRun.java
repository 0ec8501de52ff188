package org.shiftstand.rig;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Action.RequestShift;
import org.shiftstand.profile.Profile;
import org.shiftstand.rig.RunEnd.StoppedByRule;

/** Does the actions of a procedure one after the other, and waits for each shift to be over. */
final class ScriptRun {
    // after the last activity: longer than a plateau may last, so that a hold is not taken for the end
    private static final double QUIET_S = 1.0;
    private static final double HOLD_PART = 1.5;
    private static final double HOLD_MARGIN_S = 0.5;
    // a unit may take its time to start, and to finish: slow units are measured, not cut short
    private static final double START_S = 3.0;
    private static final double LONGEST_SHIFT_S = 60;
    private static final double SILENCE_S = 5;
    private static final int MOST_SPROCKETS = 30;
    private static final int STILL_TWICE = 2;

    private final Link link;
    private final Conversation rig;
    private final Intake intake;
    private final Watches watches;
    private final RunPlan plan;
    private final RunMonitor monitor;
    private final long quietMicros;
    private final long armedAt;
    private int done;
    private int cycle;

    ScriptRun(Link link, Conversation rig, Intake intake, Watches watches, RunPlan plan, RunMonitor monitor) {
        this.link = link;
        this.rig = rig;
        this.intake = intake;
        this.watches = watches;
        this.plan = plan;
        this.monitor = monitor;
        OptionalDouble hold = plan.profile().map(Profile::holdS).orElse(OptionalDouble.empty());
        quietMicros = micros(
                hold.isPresent()
                        ? Math.max(HOLD_PART * hold.getAsDouble(), hold.getAsDouble() + HOLD_MARGIN_S)
                        : QUIET_S);
        armedAt = link.now();
    }

    void run() {
        List<Action> actions = plan.actions();
        boolean supplied = false;
        for (int i = 0; i < actions.size(); i++) {
            intake.place(i);
            Action action = actions.get(i);
            if (action instanceof Action.SetSupply s) {
                if (supplied) { // the first was the voltage to arm with
                    supply(millivolts(s.volts()));
                }
                supplied = true;
            } else if (action instanceof Action.Home) {
                home();
            } else if (action instanceof RequestShift s) {
                shift(s);
            } else if (action instanceof Action.Pause p) {
                rig.waitUntil(link.now() + micros(p.seconds()));
            } else {
                throw new IllegalStateException("an action that the runner does not know: action=" + action);
            }
        }
        tell("done");
    }

    private void supply(int mv) {
        rig.command(new HostMessage.SupplySet(mv));
        intake.supplySet(mv);
    }

    /** Outboard until the unit stays where it is twice running: one request may be missed. */
    private void home() {
        int most = plan.profile().map(Profile::sprockets).orElse(MOST_SPROCKETS) + 1;
        int still = 0;
        int requests = 0;
        while (still < STILL_TWICE && requests < most) {
            tell("homing");
            request(new RequestShift(0, 0, 0, "home", 0), -1, 0);
            still = watches.motion.moved() ? 0 : still + 1;
            requests++;
        }
        intake.note("home", requests, still < STILL_TWICE ? "still moving after " + requests + " requests" : "");
        if (still < STILL_TWICE) {
            monitor.notice("homing: the unit still moves after " + requests
                    + " outboard requests; where it stands is not known");
        }
    }

    private void shift(RequestShift s) {
        cycle = s.cycle();
        if (Math.abs(s.to() - s.from()) == 1) {
            request(s, Integer.signum(s.to() - s.from()), 0);
        } else {
            request(s, 0, s.to());
        }
        done++;
        tell("running");
        rig.waitUntil(link.now() + micros(s.restS()));
    }

    private void request(RequestShift s, int direction, int sprocket) {
        intake.expect(s);
        rig.command(new HostMessage.ShiftRequest(direction, sprocket));
        boolean settled = waitUntilOver();
        if (!settled) {
            String text = place(s) + " did not come to rest within " + Watches.number(LONGEST_SHIFT_S) + " s";
            intake.note("not-settled", 0, text);
            monitor.notice(text);
            stopOn("not-settled", text);
        } else if (!watches.motion.moved() && s.cycle() > 0) {
            stopOn("missed", place(s) + " was missed: no motion seen");
        }
    }

    /** Waits until the shaft rests; false where it never came to rest. */
    private boolean waitUntilOver() {
        long asked = intake.echoMicros();
        while (true) {
            long sampled = intake.sampledMicros();
            if (watches.stalled()) {
                stopOn(
                        "stalled",
                        "no motion with a current above " + Watches.number(watches.stallA()) + " A for 0.3 s");
            }
            boolean started = watches.motion.moved() || sampled - asked >= micros(START_S);
            if (started && sampled - watches.motion.lastActiveMicros() >= quietMicros) {
                return true;
            }
            if (sampled - asked > micros(LONGEST_SHIFT_S)) {
                return false;
            }
            if (link.now() - Math.max(intake.heardAt(), armedAt) > micros(SILENCE_S)) {
                throw new RunEnded(new RunEnd.RigFault(
                        "no samples for " + Watches.number(SILENCE_S) + " s, though the supply is on"));
            }
            rig.listen(Conversation.SECOND);
        }
    }

    private void stopOn(String outcome, String text) {
        if (plan.procedure().stopWhen().outcomes().contains(outcome)) {
            throw new RunEnded(new RunEnd.StoppedByRule(StoppedByRule.Rule.OUTCOME, outcome + ": " + text));
        }
    }

    private static String place(RequestShift s) {
        return s.cycle() == 0
                ? "homing"
                : "the shift from " + s.from() + " to " + s.to() + " in cycle " + s.cycle() + " (" + s.step() + ")";
    }

    private void tell(String phase) {
        double elapsed = (link.now() - armedAt) / 1e6;
        int planned = plan.shifts();
        monitor.progress(new RunMonitor.Progress(
                phase,
                done,
                planned,
                cycle,
                elapsed,
                done == 0 ? OptionalDouble.empty() : OptionalDouble.of(elapsed / done * (planned - done))));
    }

    static int millivolts(double volts) {
        return (int) Math.round(volts * 1e3);
    }

    private static long micros(double seconds) {
        return Math.round(seconds * 1e6);
    }
}
