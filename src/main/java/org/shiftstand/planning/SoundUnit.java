package org.shiftstand.planning;

import java.util.OptionalDouble;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.NominalShift;

/**
 * How the shifts of a sound unit are taken to scatter about what is nominal.
 *
 * <p>Only the spread of landings, the hold and the wake-up error are known to the trade (10 to 11 deg, about 700 ms, 5 to
 * 10 deg: common practice, no published source). All other figures are assumptions of the size that a sound drive shows;
 * they are printed with every explanation.
 *
 * @param landingSdDeg standard deviation of landings, degrees; above 0
 */
public record SoundUnit(double landingSdDeg) {
    /** Middle of 10 to 11 deg; common practice, no published source. */
    public static final SoundUnit USUAL = new SoundUnit(10.5);

    private static final double USUAL_HOLD_S = 0.7; // common practice, no published source
    private static final double MOTION_S = 0.25; // as in the course of a procedure

    public SoundUnit {
        if (!(landingSdDeg > 0 && Double.isFinite(landingSdDeg))) { // also refuses NaN
            throw new IllegalArgumentException("a spread of landings is above 0: landingSdDeg=" + landingSdDeg);
        }
    }

    /** Standard deviation from shift to shift of a measure, in its base unit; assumed but for those of landings. */
    public double sd(Measure measure) {
        return switch (measure) {
            case LANDING, LANDING_ERROR, EXTREME, CLEARANCE, START, PLATEAU -> landingSdDeg;
            case OVERTRAVEL -> 5;
            case RINGING, RETURN_RINGING -> 2;
            case CREEP -> 2;
            case WAKE_UP_ERROR -> 7.5; // common practice, no published source
            case HOLD, REST_HOLD -> 0.01;
            case TRAVEL_TIME -> 0.01;
            case REQUEST, MOTION_START, SETTLED, SETTLE_TIME -> 0.02;
            case PEAK_CURRENT -> 0.2;
            case CHARGE -> 0.02;
            case ENERGY -> 0.15;
        };
    }

    /** What a sound unit shows on average: the profile's value, and where it has none an assumed one. */
    OptionalDouble typical(Measure measure, NominalShift shift) {
        return switch (measure) {
            case RINGING, RETURN_RINGING -> OptionalDouble.of(5);
            case HOLD -> OptionalDouble.of(holdS(shift));
            case REST_HOLD -> OptionalDouble.of(holdS(shift) - 0.02); // the same within half the settle band
            case TRAVEL_TIME -> OptionalDouble.of(0.6 * MOTION_S);
            case SETTLE_TIME ->
                shift.overtravels()
                        .map(with -> OptionalDouble.of(with ? 2 * MOTION_S + holdS(shift) : MOTION_S))
                        .orElse(OptionalDouble.empty());
            case PEAK_CURRENT -> OptionalDouble.of(5);
            case CHARGE -> OptionalDouble.of(0.3);
            case ENERGY -> OptionalDouble.of(2.2);
            case LANDING, LANDING_ERROR, OVERTRAVEL, EXTREME, CLEARANCE, CREEP, WAKE_UP_ERROR -> shift.get(measure);
            case REQUEST, MOTION_START, START, PLATEAU, SETTLED -> OptionalDouble.empty();
        };
    }

    private static double holdS(NominalShift shift) {
        return shift.get(Measure.HOLD).orElse(USUAL_HOLD_S);
    }
}
