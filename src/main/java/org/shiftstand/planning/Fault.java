package org.shiftstand.planning;

import java.util.Set;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.PlannedShift;

/**
 * What is wrong with a unit, in one measure.
 *
 * @param sign which way values move, 1 or −1
 * @param size 0 for nothing: shares in 0…1, all others in standard deviations of a sound unit; a spread is wider by so many
 * @param cycles of the whole plan, over which a drift runs
 */
record Fault(Worsening worsening, int sign, double size, Set<Pair> place, int cycles) {
    /** A shift from one sprocket to another. */
    record Pair(int from, int to) {
        static Pair of(PlannedShift shift) {
            return new Pair(shift.from(), shift.to());
        }
    }

    Fault sized(double otherSize) {
        return new Fault(worsening, sign, otherSize, place, cycles);
    }

    boolean at(PlannedShift shift) {
        return place.contains(Pair.of(shift));
    }

    /** A value with the fault in it. */
    double bend(double sound, double typical, PlannedShift shift, double sd) {
        return switch (worsening) {
            case BIAS -> sound + sign * size * sd;
            case SPREAD -> typical + (sound - typical) * (1 + size);
            case REVERSAL -> sound + sign * size * sd * shift.direction().sign() / 2;
            case DRIFT -> sound + sign * size * sd * (cycles < 2 ? 0 : (shift.cycle() - 1.0) / (cycles - 1));
            case STEP -> sound + (2 * shift.cycle() > cycles ? sign * size * sd : 0);
            case SHARE -> sound;
        };
    }

    /** Root mean square by which values depart from a sound unit's, in its standard deviations. */
    static double departure(Worsening worsening, double size) {
        return switch (worsening) {
            case BIAS -> size;
            case SPREAD -> Math.sqrt((1 + size) * (1 + size) - 1);
            case REVERSAL, STEP -> size / 2;
            case DRIFT -> size / Math.sqrt(12);
            case SHARE -> size;
        };
    }

    /** Whether values of this measure can be below 0. */
    static boolean signed(Measure measure) {
        return switch (measure) {
            case LANDING, LANDING_ERROR, START, PLATEAU, OVERTRAVEL, EXTREME, CLEARANCE, CREEP, WAKE_UP_ERROR -> true;
            case REQUEST,
                    MOTION_START,
                    RINGING,
                    RETURN_RINGING,
                    HOLD,
                    REST_HOLD,
                    TRAVEL_TIME,
                    SETTLED,
                    SETTLE_TIME,
                    PEAK_CURRENT,
                    CHARGE,
                    ENERGY -> false;
        };
    }
}
