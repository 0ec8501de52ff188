package org.shiftstand.procedure;

import java.util.List;
import java.util.Locale;
import org.shiftstand.profile.Profile;

/**
 * What a procedure comes to.
 *
 * @param shifts requests, homing not counted
 * @param cycles how many there are
 * @param estimatedS rough duration on a rig, seconds
 */
public record Summary(int shifts, int cycles, double estimatedS) {
    /** From request to the first rest, and back from overtravel; common practice, no published source. */
    private static final double TRAVEL_S = 0.25;
    /** Until a rest is known to be one. */
    private static final double DWELL_S = 0.15;

    /**
     * Counts, and estimates the duration: each shift a quarter of a second of travel, its hold and as much travel again
     * where the profile programs overtravel, the dwell and its rest; homing as one outboard shift over each sprocket.
     */
    public static Summary of(List<Action> actions, Profile profile) {
        int shifts = 0;
        int cycles = 0;
        double seconds = 0;
        for (Action action : actions) {
            if (action instanceof Action.RequestShift shift) {
                shifts++;
                cycles = Math.max(cycles, shift.cycle());
                boolean over = profile.overtravelDeg(shift.from(), shift.to()) > 0;
                seconds += TRAVEL_S + (over ? profile.holdS().orElse(0) + TRAVEL_S : 0) + DWELL_S + shift.restS();
            } else if (action instanceof Action.Pause pause) {
                seconds += pause.seconds();
            } else if (action instanceof Action.Home) {
                seconds += profile.sprockets() * (2 * TRAVEL_S + profile.holdS().orElse(0) + DWELL_S);
            }
        }
        return new Summary(shifts, cycles, seconds);
    }

    /** {@code 432 shifts in 24 cycles, about 10 min}. */
    @Override
    public String toString() {
        String duration = estimatedS < 90
                ? Math.round(estimatedS) + " s"
                : estimatedS < 5400
                        ? Math.round(estimatedS / 60) + " min"
                        : String.format(Locale.ROOT, "%.1f h", estimatedS / 3600);
        return shifts + (shifts == 1 ? " shift in " : " shifts in ") + cycles + (cycles == 1 ? " cycle" : " cycles")
                + ", about " + duration;
    }
}
