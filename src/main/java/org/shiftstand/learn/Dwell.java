package org.shiftstand.learn;

import java.util.List;

/**
 * How long the shaft stays at the plateau, over all rows: time after arrival within ± {@code withinDeg}.
 *
 * @param withinDeg the band that it is counted in, degrees
 * @param overall mean over rows, seconds
 * @param common whether all rows share it, do not, or it is not decided
 * @param toleranceS rows within this of each other are called common, seconds
 * @param apart rows whose dwell is another, as {@code 3→4}
 */
public record Dwell(double withinDeg, Estimated overall, Common common, double toleranceS, List<String> apart) {
    public Dwell {
        apart = List.copyOf(apart);
    }

    /** Whether rows share one value. */
    public enum Common {
        /** Every row's interval lies inside the tolerance. */
        COMMON,
        /** At least one row lies outside it, allowing for their number (Holm). */
        DIFFERENT,
        NOT_DECIDED
    }
}
