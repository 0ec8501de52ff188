package org.shiftstand.rig;

import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Action.RequestShift;
import org.shiftstand.procedure.Course;
import org.shiftstand.procedure.Procedure.OutcomeRule;
import org.shiftstand.profile.Profile;
import org.shiftstand.rig.RunEnd.StoppedByRule;

/** Does the actions of a procedure one after the other in one session, and waits for each shift to be over. */
final class ScriptRun {
    // a unit may take its time to start, and to finish: slow units are measured, not cut short
    private static final double START_S = 3.0;
    private static final double LONGEST_SHIFT_S = 60;
    private static final double SILENCE_S = 5;
    // one look at the line takes less
    private static final long LISTENED = Conversation.SECOND / 10;
    private static final int MOST_SPROCKETS = 30;
    private static final int STILL_TWICE = 2;

    // most that one request may turn the shaft net, in pitches: after a cut a unit may stand between two sprockets
    private static final double MOST_PITCHES = 1.75;

    private final Link link;
    private final Conversation rig;
    private final Intake intake;
    private final Watches watches;
    private final RunPlan plan;
    private final RunMonitor monitor;
    private final Map<String, Integer> seen;
    private final Set<String> outcomes = new HashSet<>(); // of the shift under way
    private final long quietMicros;
    private final long blockMicros;
    private long armedAt;
    private long lastHeard;
    private long withoutSamples;
    private boolean armed;
    private boolean unsure = true; // where the unit stands; after any cut it is unknown
    private boolean homeFirst; // after a break, before the script's next shift
    private int placed = -1;
    private int done;
    private int cycle;

    /**
     * @param seen shifts of the run by the word of their outcome, as far as outcomes are seen while it goes on
     * @param blockMicros how long a block of samples spans
     */
    ScriptRun(
            Link link,
            Conversation rig,
            Intake intake,
            Watches watches,
            RunPlan plan,
            RunMonitor monitor,
            Map<String, Integer> seen,
            long blockMicros) {
        this.link = link;
        this.rig = rig;
        this.intake = intake;
        this.watches = watches;
        this.plan = plan;
        this.monitor = monitor;
        this.seen = seen;
        this.blockMicros = blockMicros;
        quietMicros = micros(Course.quietS(plan.profile().map(Profile::holdS).orElse(OptionalDouble.empty())));
        armedAt = link.now();
    }

    /** From the first action to the last. */
    void run() {
        run(0);
    }

    /** Brings the unit back to where the script stood, homing first, and goes on with an action. */
    void goOn(int from) {
        List<Action> actions = plan.actions();
        placed = from; // the place is kept until the action is over
        homeFirst = from > 0;
        double volts = 0;
        for (Action action : actions.subList(0, from)) {
            volts = action instanceof Action.SetSupply s ? s.volts() : action instanceof Action.SupplyOff ? 0 : volts;
            if (action instanceof RequestShift s) {
                done++;
                cycle = s.cycle();
            }
        }
        if (volts > 0 && from < actions.size()) {
            supply(millivolts(volts));
            nextShift(actions.subList(from, actions.size())).ifPresent(this::homeBefore);
        }
        run(from);
    }

    /** The next shift, unless the script homes or cuts before it. */
    private static Optional<RequestShift> nextShift(List<Action> actions) {
        for (Action action : actions) {
            if (action instanceof RequestShift s) {
                return Optional.of(s);
            }
            if (action instanceof Action.Home || action instanceof Action.SupplyOff) {
                return Optional.empty();
            }
        }
        return Optional.empty();
    }

    /** Homes, and goes to where a shift begins. */
    private void homeBefore(RequestShift next) {
        home();
        returnTo(next.from());
    }

    private void returnTo(int sprocket) {
        for (int at = 1; at < sprocket; at++) {
            tell("returning");
            request(new RequestShift(0, at, at + 1, "return", 0), 1, 0);
        }
    }

    private void run(int from) {
        List<Action> actions = plan.actions();
        for (int i = from; i < actions.size(); i++) {
            place(i);
            Action action = actions.get(i);
            if (action instanceof Action.SetSupply s) {
                supply(millivolts(s.volts()));
            } else if (action instanceof Action.SupplyOff) {
                supplyOff();
            } else if (action instanceof Action.Home) {
                home();
            } else if (action instanceof RequestShift s) {
                if (homeFirst) { // the supply was off at the break, and has come on only now
                    homeBefore(s);
                }
                shift(s, i);
            } else if (action instanceof Action.Pause p) {
                rest(p.seconds());
            } else {
                throw new IllegalStateException("an action that the runner does not know: action=" + action);
            }
        }
        tell("done");
    }

    /** Index of the action that is under way, or to be done next. */
    int place() {
        return Math.max(0, placed);
    }

    private void place(int action) {
        if (action > placed) {
            placed = action;
            intake.place(action);
        }
    }

    private void supply(int mv) {
        if (armed) {
            rig.command(new HostMessage.SupplySet(mv));
            intake.supplySet(mv);
            return;
        }
        rig.command(new HostMessage.Arm(mv));
        rig.startHeartbeat(blockMicros);
        intake.armed(mv);
        armed = true;
        withoutSamples = 0;
        armedAt = link.now();
    }

    private void supplyOff() {
        if (armed) {
            rig.command(new HostMessage.Cut());
            rig.endHeartbeat();
            armed = false;
            unsure = true;
        }
    }

    /** Outboard until the unit stays where it is twice running: one request may be missed. */
    private void home() {
        homeFirst = false;
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
                    + " outboard requests; where it stands is not known. Look whether the unit follows its requests");
        }
    }

    /** The first shift with fresh supply is looked at by itself before anything else moves. */
    private void checkFirst() {
        Optional<Profile> profile = plan.profile();
        if (!unsure || profile.isEmpty()) {
            return;
        }
        unsure = false;
        double most = MOST_PITCHES * largestPitchDeg(profile.get());
        double turned = watches.motion.turnedDeg();
        if (turned > most) {
            throw new RunEnded(new RunEnd.RigFault(String.format(
                    Locale.ROOT,
                    "the first shift after the supply came on turned the shaft by %.0f deg; one shift of profile %s"
                            + " turns it by at most %.0f deg. Look at the unit and its limits before anything else moves",
                    turned,
                    profile.get().name(),
                    most)));
        }
    }

    private static double largestPitchDeg(Profile profile) {
        double largest = 0;
        for (int k = 1; k < profile.sprockets(); k++) {
            largest = Math.max(largest, Math.abs(profile.positionDeg(k + 1) - profile.positionDeg(k)));
        }
        return largest;
    }

    private void shift(RequestShift s, int action) {
        cycle = s.cycle();
        if (Math.abs(s.to() - s.from()) == 1) {
            request(s, Integer.signum(s.to() - s.from()), 0);
        } else {
            request(s, 0, s.to());
        }
        place(action + 1); // over, whatever comes in the pause after it
        done++;
        tell("running");
        rest(s.restS());
    }

    /** Waits with nothing asked for. */
    private void rest(double seconds) {
        long until = link.now() + micros(seconds);
        while (link.now() < until) {
            listen(until - link.now());
        }
    }

    /**
     * Listens for one arrival, or at most {@code micros}. A unit under supply of which no samples come is not watched: that
     * ends the run. Only time spent listening counts: after this process was held up, what came meanwhile still waits here.
     */
    private void listen(long micros) {
        long before = link.now();
        rig.listen(micros);
        boolean heard = intake.heardAt() != lastHeard;
        lastHeard = intake.heardAt();
        withoutSamples = heard || !armed ? 0 : withoutSamples + Math.min(link.now() - before, LISTENED);
        if (withoutSamples > micros(SILENCE_S)) {
            throw new RunEnded(
                    new RunEnd.RigFault("no samples for " + Watches.number(SILENCE_S) + " s, though the supply is on"));
        }
    }

    private void request(RequestShift s, int direction, int sprocket) {
        outcomes.clear();
        intake.expect(s);
        rig.command(new HostMessage.ShiftRequest(direction, sprocket));
        boolean settled = waitUntilOver();
        if (sprocket == 0) {
            checkFirst();
        }
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
            listen(Conversation.SECOND);
        }
    }

    /** Counts an outcome, once a shift, and ends the run where the procedure says that these are enough. */
    private void stopOn(String outcome, String text) {
        if (!outcomes.add(outcome)) {
            return;
        }
        seen.merge(outcome, 1, Integer::sum);
        Optional<OutcomeRule> rule = plan.procedure().stopWhen().reached(seen);
        if (rule.isPresent() && rule.get().outcomes().contains(outcome)) {
            String times =
                    rule.get().times() == 1 ? "" : " (number " + rule.get().times() + ")";
            throw new RunEnded(new RunEnd.StoppedByRule(StoppedByRule.Rule.OUTCOME, outcome + times + ": " + text));
        }
    }

    private static String place(RequestShift s) {
        return s.cycle() == 0
                ? s.step().equals("home") ? "homing" : "the way back from " + s.from() + " to " + s.to()
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
