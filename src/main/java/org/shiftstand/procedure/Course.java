package org.shiftstand.procedure;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;

/**
 * A script laid out in time: when each action begins and ends on a rig, how long the shaft moves, whether the unit has its
 * supply. An estimate, for people, for checks before a run, and for the room on a disk; no verdict rests on it.
 *
 * <p>Within 10 % of what sound units take: a quarter of a second a motion, a tenth until it is seen to be over (common
 * practice, no published source), the nominal hold, the wait of {@link #quietS}, half a block of samples, and the rest asked
 * for. Homing is an outboard shift from each sprocket above the first, and two requests that move nothing. The unit is taken
 * to stand on sprocket 1 at the start.
 */
public final class Course {
    private static final double MOTION_S = 0.25;
    private static final double SEEN_S = 0.1;
    /** A run hears of samples in blocks, eight a second; on average the end lies in the middle of one. */
    private static final double HALF_BLOCK_S = 1 / 16.0;
    /** A request that moves nothing is given up after so long; homing asks for two of them. */
    private static final double NOTHING_MOVES_S = 3;

    private static final int STILL_REQUESTS = 2;

    private final List<Action> actions;
    private final Profile profile;
    private final double[] endsS;
    private final double[] motionsS;
    private final boolean[] powered;
    private final int shifts;
    private final int cycles;

    private Course(List<Action> actions, Profile profile) {
        this.actions = actions;
        this.profile = profile;
        endsS = new double[actions.size()];
        motionsS = new double[actions.size()];
        powered = new boolean[actions.size()];
        boolean on = false;
        int at = 1;
        int requests = 0;
        int last = 0;
        double now = 0;
        for (int i = 0; i < endsS.length; i++) {
            Action action = actions.get(i);
            if (action instanceof Action.RequestShift shift) {
                requests++;
                last = Math.max(last, shift.cycle());
                at = shift.to();
                motionsS[i] = motionS(shift.from(), shift.to());
                now += shiftS(shift.from(), shift.to()) + shift.restS();
            } else if (action instanceof Action.Pause pause) {
                now += pause.seconds();
            } else if (action instanceof Action.Home) {
                now += homing(i, at);
                at = 1;
            } else {
                on = action instanceof Action.SetSupply;
            }
            endsS[i] = now;
            powered[i] = on;
        }
        shifts = requests;
        cycles = last;
    }

    /** Lays a script out in time. */
    public static Course of(List<Action> actions, Profile profile) {
        return new Course(List.copyOf(actions), profile);
    }

    /**
     * How long a shaft must have been quiet before its shift is taken to be over, seconds: longer than a plateau may last,
     * so that a hold is not taken for the end.
     *
     * @param holdS nominal; empty where none is known
     */
    public static double quietS(OptionalDouble holdS) {
        return holdS.isPresent() ? Math.max(1.5 * holdS.getAsDouble(), holdS.getAsDouble() + 0.5) : 1;
    }

    private double homing(int i, int from) {
        double seconds = STILL_REQUESTS * (NOTHING_MOVES_S + HALF_BLOCK_S);
        for (int sprocket = from; sprocket > 1; sprocket--) {
            motionsS[i] += motionS(sprocket, sprocket - 1);
            seconds += shiftS(sprocket, sprocket - 1);
        }
        return seconds;
    }

    /** From the request until the next may come, without the rest asked for. */
    private double shiftS(int from, int to) {
        return activeS(from, to) + quietS(profile.holdS()) + HALF_BLOCK_S;
    }

    /** From the request to the last that is seen of the motion. */
    private double activeS(int from, int to) {
        double hold = overtravels(from, to) ? profile.holdS().orElse(0) : 0;
        return motionS(from, to) + hold + SEEN_S;
    }

    private double motionS(int from, int to) {
        return overtravels(from, to) ? 2 * MOTION_S : MOTION_S;
    }

    /** Also where it is not known: a time that is planned too long does no harm. */
    private boolean overtravels(int from, int to) {
        return profile.overtravel(from, to).orElse(Double.POSITIVE_INFINITY) > 0;
    }

    public List<Action> actions() {
        return actions;
    }

    /** Requests, homing not counted. */
    public int shifts() {
        return shifts;
    }

    public int cycles() {
        return cycles;
    }

    /** From the first action to the end of the last, seconds. */
    public double totalS() {
        return endsS.length == 0 ? 0 : endsS[endsS.length - 1];
    }

    /** When action {@code i}, from 0, begins, seconds after the first. */
    public double startS(int i) {
        return i == 0 ? 0 : endsS[i - 1];
    }

    /** When action {@code i}, from 0, is over, seconds after the beginning of the first. */
    public double endS(int i) {
        return endsS[i];
    }

    /** How long the shaft moves during action {@code i}, seconds. */
    public double motionS(int i) {
        return motionsS[i];
    }

    /** Whether the unit has its supply during action {@code i}. */
    public boolean powered(int i) {
        return powered[i];
    }
}
