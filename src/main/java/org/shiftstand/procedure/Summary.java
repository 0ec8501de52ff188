package org.shiftstand.procedure;

import java.util.List;
import java.util.Locale;
import org.shiftstand.profile.Profile;

/**
 * What a procedure comes to.
 *
 * @param shifts requests, homing not counted
 * @param cycles how many there are
 * @param estimatedS rough duration on a rig, seconds; see {@link Course}
 */
public record Summary(int shifts, int cycles, double estimatedS) {
    /** Counts, and estimates the duration. */
    public static Summary of(List<Action> actions, Profile profile) {
        Course course = Course.of(actions, profile);
        return new Summary(course.shifts(), course.cycles(), course.totalS());
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
