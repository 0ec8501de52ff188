package org.shiftstand.report;

import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.spec.Bound;
import org.shiftstand.spec.Clause;

/**
 * Where in the drawing of one shift a clause's bound lies.
 *
 * @param lowDeg lower edge on the angle axis, or empty
 * @param highDeg upper edge on the angle axis, or empty
 * @param lowS earliest time after the request, or empty
 * @param highS latest time after the request, or empty
 * @param label what must lie there
 * @param actualDeg where the shift was instead, on the angle axis, or empty
 */
record Allowed(
        OptionalDouble lowDeg,
        OptionalDouble highDeg,
        OptionalDouble lowS,
        OptionalDouble highS,
        String label,
        OptionalDouble actualDeg) {
    private static final OptionalDouble NONE = OptionalDouble.empty();

    /** Empty where the bound has no place in the drawing. */
    static Optional<Allowed> of(Clause clause, Shift shift, ShiftTable table, Optional<Profile> profile) {
        if (clause.measure().isEmpty() || !Findings.boundsEachShift(clause)) {
            return Optional.empty();
        }
        Measure measure = clause.measure().get();
        Bound bound = clause.bound();
        OptionalDouble landing = shift.get(Measure.LANDING).number();
        OptionalDouble plateau = shift.get(Measure.PLATEAU).number();
        OptionalDouble rest = plateau.isPresent() ? plateau : landing;
        OptionalDouble extreme = shift.get(Measure.EXTREME).number();
        return switch (measure) {
            case OVERTRAVEL -> from(landing, bound, shift.direction(), "plateau", rest);
            case RINGING -> from(rest, bound, shift.direction(), "ringing", extreme);
            case RETURN_RINGING -> from(landing, bound, shift.direction().opposite(), "ringing", NONE);
            case LANDING -> from(OptionalDouble.of(0), bound, Direction.INBOARD, "landing", landing);
            case EXTREME -> from(OptionalDouble.of(0), bound, Direction.INBOARD, "extreme", extreme);
            case LANDING_ERROR -> from(nominal(shift, table, profile), bound, Direction.INBOARD, "landing", landing);
            case CLEARANCE -> clearance(bound, shift);
            case CREEP -> creep(bound, shift);
            case TRAVEL_TIME -> Optional.of(new Allowed(NONE, NONE, bound.atLeast(), bound.atMost(), "travel", NONE));
            case SETTLE_TIME -> Optional.of(new Allowed(NONE, NONE, bound.atLeast(), bound.atMost(), "settle", NONE));
            case REQUEST,
                    MOTION_START,
                    START,
                    PLATEAU,
                    HOLD,
                    SETTLED,
                    WAKE_UP_ERROR,
                    PEAK_CURRENT,
                    CHARGE,
                    REST_HOLD,
                    ENERGY -> Optional.empty();
        };
    }

    /** The edge that was broken on the angle axis; empty where none was. */
    OptionalDouble brokenEdge() {
        if (actualDeg.isPresent() && lowDeg.isPresent() && actualDeg.getAsDouble() < lowDeg.getAsDouble()) {
            return lowDeg;
        }
        return actualDeg.isPresent() && highDeg.isPresent() && actualDeg.getAsDouble() > highDeg.getAsDouble()
                ? highDeg
                : NONE;
    }

    private static Optional<Allowed> from(
            OptionalDouble zero, Bound bound, Direction towards, String label, OptionalDouble actual) {
        if (zero.isEmpty()) {
            return Optional.empty();
        }
        OptionalDouble near = plus(zero.getAsDouble(), towards.sign(), bound.atLeast());
        OptionalDouble far = plus(zero.getAsDouble(), towards.sign(), bound.atMost());
        return Optional.of(
                towards == Direction.INBOARD
                        ? new Allowed(near, far, NONE, NONE, label, actual)
                        : new Allowed(far, near, NONE, NONE, label, actual));
    }

    private static OptionalDouble plus(double zero, int sign, OptionalDouble distance) {
        return distance.isPresent() ? OptionalDouble.of(zero + sign * distance.getAsDouble()) : NONE;
    }

    /** The nominal position; without a profile the centre that the landing error was taken from. */
    private static OptionalDouble nominal(Shift shift, ShiftTable table, Optional<Profile> profile) {
        OptionalDouble landing = shift.get(Measure.LANDING).number();
        OptionalDouble error = shift.get(Measure.LANDING_ERROR).number();
        if (landing.isPresent() && error.isPresent()) {
            return OptionalDouble.of(landing.getAsDouble() - error.getAsDouble());
        }
        return profile.filter(p -> shift.to() >= 1 && shift.to() <= Math.min(p.sprockets(), table.sprockets()))
                .map(p -> OptionalDouble.of(p.positionDeg(shift.to())))
                .orElse(NONE);
    }

    /** About the landing before, which is where the shift would have started had nothing moved. */
    private static Optional<Allowed> creep(Bound bound, Shift shift) {
        OptionalDouble start = shift.get(Measure.START).number();
        OptionalDouble creep = shift.get(Measure.CREEP).number();
        if (start.isEmpty() || creep.isEmpty()) {
            return Optional.empty();
        }
        double before = start.getAsDouble() - creep.getAsDouble();
        return from(OptionalDouble.of(before), bound, Direction.INBOARD, "start", start);
    }

    private static Optional<Allowed> clearance(Bound bound, Shift shift) {
        OptionalDouble extreme = shift.get(Measure.EXTREME).number();
        OptionalDouble clearance = shift.get(Measure.CLEARANCE).number();
        if (extreme.isEmpty() || clearance.isEmpty() || bound.atLeast().isEmpty()) {
            return Optional.empty();
        }
        // the limit that was used for this shift, on the side of the motion
        int sign = shift.direction().sign();
        double limit = extreme.getAsDouble() + sign * clearance.getAsDouble();
        double edge = limit - sign * bound.atLeast().getAsDouble();
        OptionalDouble at = OptionalDouble.of(edge);
        return Optional.of(
                sign > 0
                        ? new Allowed(NONE, at, NONE, NONE, "extreme", extreme)
                        : new Allowed(at, NONE, NONE, NONE, "extreme", extreme));
    }
}
