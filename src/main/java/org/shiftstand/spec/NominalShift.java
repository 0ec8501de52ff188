package org.shiftstand.spec;

import java.util.Optional;
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
            case OVERTRAVEL -> profile.overtravel(from, to);
            case EXTREME -> extreme();
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

    /** Whether the profile programs overtravel; without it neither a hold nor a return exists. Empty where it is not known. */
    public Optional<Boolean> overtravels() {
        OptionalDouble overtravel = profile.overtravel(from, to);
        return overtravel.isPresent() ? Optional.of(overtravel.getAsDouble() > 0) : Optional.empty();
    }

    private OptionalDouble extreme() {
        OptionalDouble overtravel = profile.overtravel(from, to);
        return overtravel.isEmpty()
                ? overtravel
                : OptionalDouble.of(profile.positionDeg(to) + direction().sign() * overtravel.getAsDouble());
    }

    private OptionalDouble clearance() {
        OptionalDouble limit =
                direction() == Direction.INBOARD ? profile.inboardLimitDeg() : profile.outboardLimitDeg();
        OptionalDouble extreme = extreme();
        return limit.isPresent() && extreme.isPresent()
                ? OptionalDouble.of(Math.abs(limit.getAsDouble() - extreme.getAsDouble()))
                : OptionalDouble.empty();
    }

    private Direction direction() {
        return Direction.of(to - from);
    }
}
