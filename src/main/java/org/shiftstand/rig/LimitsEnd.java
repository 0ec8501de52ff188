package org.shiftstand.rig;

import java.util.List;
import java.util.Optional;
import org.shiftstand.bench.UnitLimits;

/**
 * How a search for limits ended. The supply is off.
 *
 * @param found empty where it was broken off; nothing is given that is not sure
 * @param end completed, or why not
 */
public record LimitsEnd(Optional<Found> found, RunEnd end) {
    /**
     * Both limits.
     *
     * @param outboardDeg each touch, in the profile's frame, degrees
     * @param inboardDeg likewise
     * @param angleUncertaintyDeg standard uncertainty of one angle against another of the same search, degrees
     * @param notices to be read once
     */
    public record Found(
            UnitLimits limits,
            List<Double> outboardDeg,
            List<Double> inboardDeg,
            double angleUncertaintyDeg,
            List<String> notices) {
        public Found {
            outboardDeg = List.copyOf(outboardDeg);
            inboardDeg = List.copyOf(inboardDeg);
            notices = List.copyOf(notices);
        }
    }
}
