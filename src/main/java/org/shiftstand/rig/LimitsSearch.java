package org.shiftstand.rig;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.Link;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.link.RigMessage.Identity;

/**
 * Finds the mechanical limits of a unit by driving it gently against them, on a rig with {@code drive: direct}.
 *
 * <p>Outboard to the limit; away from it and against it again, slowly, three times; the same inboard; outboard once more,
 * so that a turn lost on the way shows; back to where it stood. Low current, which the rig limits; a higher one cuts the
 * supply, in the rig and here. Gives no limits unless the touches agree. Supply off on every way out.
 */
public final class LimitsSearch {
    /** On the way to a limit, degrees a second: a tenth of what such a drive reaches in a shift. */
    static final int APPROACH_DEG_S = 600;

    /** Against a limit, for the touches that count: what is left to run on is below a degree. */
    static final int TOUCH_DEG_S = 120;

    /** Away from a limit between touches: a third of a turn, out of whatever a stop gives way. */
    static final double BACK_OFF_DEG = 120;

    /** Touches that count, each side. */
    static final int TOUCHES = 3;

    /** Touches may differ by so much, degrees: six times the uncertainty of an angle at its worst. */
    static final double MOST_SPREAD_DEG = 3;

    private static final int RATE_HZ = 512;
    private static final int BLOCK = 16; // what happens is known 31 ms later
    private static final double CURRENT_MARGIN = 1.5; // over the limit asked for; the electronics draw some too
    private static final int CURRENT_MS = 100; // in the rig; as long as it pushes at a limit
    private static final double CURRENT_HERE_S = 0.05;
    private static final int SUPPLY_LOST = 3; // rig/WIRE.md, event 24
    private static final double REST_S = 0.3;
    private static final double ANSWER_S = 2; // after its time a drive's end is told
    private static final double LONGEST_S = 60; // rig/WIRE.md: 16 bits of milliseconds

    /** When the shaft stood against a limit: up to here, rig's clock. */
    private record Touch(long untilMicros) {}

    private final LimitsPlan plan;
    private final RigSession talk;
    private final TravelWatch travel;
    private final RunMonitor monitor;

    private LimitsSearch(LimitsPlan plan, RigSession talk, TravelWatch travel, RunMonitor monitor) {
        this.plan = plan;
        this.talk = talk;
        this.travel = travel;
        this.monitor = monitor;
    }

    /**
     * Searches. Blocks for about a minute.
     *
     * @param monitor gets a notice for each step
     * @param stop polled at least each 50 ms; true cuts the supply and ends the search
     * @throws LinkException where there is no rig, or none that drives the motor itself, or the plan cannot be done;
     *     nothing was moved
     */
    public static LimitsEnd run(Link link, LimitsPlan plan, RunMonitor monitor, BooleanSupplier stop) {
        List<String> problems = plan.problems();
        if (!problems.isEmpty()) {
            throw new LinkException(String.join("\n", problems) + "\nNothing was moved.");
        }
        int mostMa = (int) Math.round(CURRENT_MARGIN * plan.currentA() * 1e3);
        RigSession talk;
        try {
            talk = new RigSession(
                    link,
                    limits(plan.guards(), mostMa),
                    RATE_HZ,
                    BLOCK,
                    plan.turnsPerCycle(),
                    plan.currentScaleA(),
                    stop);
        } catch (RunEnded e) {
            return new LimitsEnd(Optional.empty(), e.end());
        }
        LimitsEnd end = searched(link, plan, talk, mostMa / 1e3, monitor);
        return talk.cutConfirmed() || end.end() instanceof RunEnd.LinkLost
                ? end
                : new LimitsEnd(Optional.empty(), new RunEnd.CutNotConfirmed(end.end()));
    }

    private static LimitsEnd searched(Link link, LimitsPlan plan, RigSession talk, double mostA, RunMonitor monitor) {
        try (talk) {
            Identity rig = talk.identity();
            if (rig.drive() != 1 || rig.minor() < 1) {
                throw new LinkException(link.address()
                        + ": the rig does not drive the motor itself (drive: requests), so that it cannot find limits."
                        + " Nothing was moved. Measure them by hand and give them with --outboard, --inboard, --by and"
                        + " --on.");
            }
            TravelWatch travel = new TravelWatch(
                    rig.hallCounts(),
                    plan.turnsPerCycle(),
                    plan.leastDeg() - plan.originDeg(),
                    plan.mostDeg() - plan.originDeg(),
                    mostA,
                    CURRENT_HERE_S);
            talk.watchedBy(travel);
            return new LimitsEnd(
                    Optional.of(new LimitsSearch(plan, talk, travel, monitor).search()), new RunEnd.Completed());
        } catch (RunEnded e) {
            return new LimitsEnd(Optional.empty(), e.end());
        }
    }

    private static HostMessage.Limits limits(Guards guards, int mostMa) {
        HostMessage.Limits usual = RigRunner.limits(guards);
        return new HostMessage.Limits(
                usual.currentMa() > 0 ? Math.min(usual.currentMa(), mostMa) : mostMa,
                CURRENT_MS,
                usual.averageMa(),
                usual.averageMs(),
                usual.supplyMinMv(),
                usual.supplyMaxMv(),
                usual.onTimeS(),
                usual.temperatureDeciC());
    }

    private LimitsEnd.Found search() {
        talk.arm((int) Math.round(plan.supplyV() * 1e3));
        talk.listen(REST_S);
        long started = talk.lastMicros();
        List<Touch> outboard = side(-1);
        List<Touch> inboard = side(1);
        monitor.notice("outboard once more: is it where it was?");
        approach(-1);
        backOff(-1);
        Touch again = touch(-1, TOUCH_DEG_S, BACK_OFF_DEG);
        monitor.notice("back to where it stood");
        goBack();
        return new LimitsFigures(plan, talk, started).found(times(outboard), times(inboard), again.untilMicros());
    }

    private static List<Long> times(List<Touch> touches) {
        return touches.stream().map(Touch::untilMicros).toList();
    }

    private List<Touch> side(int direction) {
        monitor.notice("towards the " + word(direction) + " limit");
        approach(direction);
        List<Touch> touches = new ArrayList<>();
        for (int i = 1; i <= TOUCHES; i++) {
            backOff(direction);
            touches.add(touch(direction, TOUCH_DEG_S, BACK_OFF_DEG));
            monitor.notice(word(direction) + ": touch " + i + " of " + TOUCHES);
        }
        return touches;
    }

    private static String word(int direction) {
        return direction > 0 ? "inboard" : "outboard";
    }

    private void approach(int direction) {
        double far = direction > 0
                ? plan.mostDeg() - plan.originDeg() - travel.deg()
                : travel.deg() - plan.leastDeg() + plan.originDeg();
        touch(direction, APPROACH_DEG_S, far);
    }

    /** Drives until the shaft stands against something. */
    private Touch touch(int direction, int degS, double farDeg) {
        // twice the time that it should take: friction slows it down where the current is low
        Event over = drive(direction, degS, Math.min(LONGEST_S, 2 * farDeg / degS + ANSWER_S));
        if (over.value() != 1) {
            throw new RunEnded(new RunEnd.RigFault(
                    over.value() == 0
                            ? String.format(
                                    Locale.ROOT,
                                    "no %s limit was met in time: the shaft is %.0f deg from where it stood. Does %s A turn it?",
                                    word(direction),
                                    travel.deg(),
                                    Watches.number(plan.currentA()))
                            : "the drive ended before it met a limit"));
        }
        return new Touch(over.atMicros());
    }

    private void backOff(int direction) {
        Event over = drive(-direction, TOUCH_DEG_S, BACK_OFF_DEG / TOUCH_DEG_S);
        if (over.value() != 0) {
            throw new RunEnded(new RunEnd.RigFault("the shaft did not come away from the " + word(direction)
                    + " limit; it is stuck. Free it by hand with the supply off"));
        }
    }

    private void goBack() {
        travel.setsOut(1);
        talk.command(new HostMessage.Drive(
                1, (int) Math.round(plan.currentA() * 1e3), APPROACH_DEG_S, milliseconds(LONGEST_S)));
        int seen = talk.events().size();
        talk.await(() -> travel.deg() >= 0 || over(seen).isPresent(), LONGEST_S);
        if (over(seen).isEmpty()) {
            talk.command(HostMessage.Drive.stopNow());
            talk.await(() -> over(seen).isPresent(), ANSWER_S);
        }
        travel.setsOut(0);
    }

    private Event drive(int direction, int degS, double seconds) {
        travel.setsOut(direction);
        int seen = talk.events().size();
        talk.command(
                new HostMessage.Drive(direction, (int) Math.round(plan.currentA() * 1e3), degS, milliseconds(seconds)));
        if (!talk.await(() -> over(seen).isPresent(), seconds + ANSWER_S)) {
            throw new RunEnded(new RunEnd.RigFault("the rig did not say that its drive was over"));
        }
        travel.setsOut(0);
        Event over = over(seen).orElseThrow();
        if (over.value() == SUPPLY_LOST) {
            talk.listen(REST_S); // the fault that says why comes next, and ends this
        }
        return over;
    }

    private Optional<Event> over(int seen) {
        return talk.events().stream()
                .skip(seen)
                .filter(e -> e.kind() == Event.Kind.DRIVE_OVER)
                .findFirst();
    }

    private static int milliseconds(double seconds) {
        return (int) Math.max(1, Math.round(seconds * 1e3));
    }
}
