package org.shiftstand.spec;

import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;

/** A shift of a unit that does exactly what its profile says. */
public record NominalShift(Profile profile, int from, int to) {
    /** The value of a measure in its base unit; empty where the profile does not say. */
    public OptionalDouble get(Measure measure) {
        return switch (measure) {
            case LANDING -> OptionalDouble.of(profile.positionDeg(to));
            case OVERTRAVEL -> OptionalDouble.of(profile.overtravelDeg(from, to));
            case EXTREME -> OptionalDouble.of(extremeDeg());
            case LANDING_ERROR, RINGING, RETURN_RINGING, CREEP, WAKE_UP_ERROR -> OptionalDouble.of(0);
            case HOLD -> profile.holdS();
            case CLEARANCE -> clearance();
            case REQUEST,
                    MOTION_START,
                    START,
                    PLATEAU,
                    REST_HOLD,
                    TRAVEL_TIME,
                    SETTLED,
                    SETTLE_TIME,
                    PEAK_CURRENT,
                    CHARGE,
                    ENERGY -> OptionalDouble.empty();
        };
    }

    /** Whether the profile programs overtravel; without it neither a hold nor a return exists. */
    public boolean overtravels() {
        return profile.overtravelDeg(from, to) > 0;
    }

    private double extremeDeg() {
        return profile.positionDeg(to) + direction().sign() * profile.overtravelDeg(from, to);
    }

    private OptionalDouble clearance() {
        OptionalDouble limit =
                direction() == Direction.INBOARD ? profile.inboardLimitDeg() : profile.outboardLimitDeg();
        return limit.isPresent()
                ? OptionalDouble.of(Math.abs(limit.getAsDouble() - extremeDeg()))
                : OptionalDouble.empty();
    }

    private Direction direction() {
        return Direction.of(to - from);
    }
}
