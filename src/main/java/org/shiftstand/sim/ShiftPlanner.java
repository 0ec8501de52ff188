package org.shiftstand.sim;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/**
 * Decides what each shift will be: its own spread, then the faults that address it.
 *
 * <p>Each shift has its own stream of random numbers, and each fault one of its own, so that a fault changes the shifts it
 * strikes and no other.
 */
final class ShiftPlanner {
    static final long HALL = 1;
    static final long WAKE_UP = 2;
    static final long NOISE = 3;
    private static final long SHIFT = 4;
    private static final long FAULT = 5;

    /** Spread of overtravel about the table, sd; common practice, no published source. */
    private static final double OVERTRAVEL_SD_DEG = 3;

    private static final double USUAL_HOLD_S = 0.7; // CP-01: common practice, no published source

    private final Profile profile;
    private final SimOptions options;
    private final Generator draws;

    ShiftPlanner(Profile profile, SimOptions options) {
        this.profile = profile;
        this.options = options;
        draws = new Generator(options.seed());
        List<String> unknown = profile.unknownOvertravel();
        if (!unknown.isEmpty()) {
            throw new IllegalArgumentException("sim: profile " + profile.name() + " does not know the overtravel of "
                    + String.join(", ", unknown)
                    + "; a simulated unit needs every one: put an angle in the place of 'unknown'");
        }
        int n = profile.sprockets();
        if (options.start() > n) {
            throw new IllegalArgumentException(
                    "sim: start=" + options.start() + " is beyond the last sprocket; expected 1 to " + n);
        }
        for (SimFault f : options.faults()) {
            if (f.from().orElse(1) > n || f.to().orElse(1) > n || f.from().orElse(1) < 1 || f.to().orElse(1) < 1) {
                throw new IllegalArgumentException("sim: pair=" + f.from().orElse(0) + "-" + f.to().orElse(0)
                        + " is beyond the cassette; expected sprockets 1 to " + n);
            }
        }
    }

    ShiftPlan plan(int number, int cycle, int from, int to, Direction direction) {
        ShiftPlan plan = new ShiftPlan(number, cycle, from, to, direction);
        draws.restart(options.seed(), SHIFT, number, 0);
        double landingZ = draws.normal();
        double overtravelZ = draws.normal();
        plan.holdS = profile.holdS().orElse(USUAL_HOLD_S);
        if (from == to) {
            plan.responds = false; // at the end of the cassette: nothing to do
            plan.landingDeg = profile.positionDeg(to);
            return plan;
        }
        double spreadDeg = options.landingSdDeg();
        double shiftedDeg = 0;
        double tableDeg = profile.overtravelDeg(from, to);
        for (int i = 0; i < options.faults().size(); i++) {
            SimFault fault = options.faults().get(i);
            if (!fault.addresses(from, to, direction, cycle)) {
                continue;
            }
            draws.restart(options.seed(), FAULT, number, i);
            if (draws.uniform() >= fault.rate()) {
                continue;
            }
            plan.struck.add(fault.kind());
            double amount = fault.amount();
            switch (fault.kind()) {
                case SPREAD -> spreadDeg = amount;
                case BIAS -> shiftedDeg += amount;
                case DRIFT -> shiftedDeg += amount * (cycle - fault.fromCycle()) / 100;
                case OVERTRAVEL_SHORT -> tableDeg = Math.min(tableDeg, Math.max(40, tableDeg - amount));
                case OVERTRAVEL_LONG -> tableDeg = tableDeg + amount;
                case OVERTRAVEL_MISSING -> tableDeg = tableDeg * (1 - Math.min(100, amount) / 100);
                case SHORT_HOLD -> plan.holdS = Math.min(plan.holdS, Math.max(0.2, plan.holdS - amount / 1000));
                case SLOW -> plan.speedPart = 1 / (1 + Math.max(0, amount) / 100);
                case RINGING -> plan.overshootDeg = Math.max(0, amount);
                case LIMIT_CLOSE -> tableDeg = Math.max(tableDeg, toLimit(to, direction) - amount);
                case MISSED -> plan.responds = false;
                case DOUBLE ->
                    plan.goesTo = Math.max(
                            1, Math.min(profile.sprockets(), to + direction.sign() * (int) Math.max(1, amount)));
                case SENSOR_DROPOUT -> plan.dropoutSamples = (int) amount;
                case LOST_FRAMES -> plan.lostFrames = (int) amount;
                case JAM -> plan.blockedPart = amount / 100;
                case CREEP -> plan.creepDeg -= amount;
            }
        }
        if (plan.goesTo == to) {
            plan.struck.remove(FaultKind.DOUBLE);
        } else {
            tableDeg = profile.overtravelDeg(from, plan.goesTo);
        }
        plan.landingDeg = profile.positionDeg(plan.goesTo) + shiftedDeg + spreadDeg * landingZ;
        // a plateau nearer than its own spread would be none: firmware leaves it out
        plan.overtravelDeg = tableDeg < 5 ? 0 : tableDeg + OVERTRAVEL_SD_DEG * overtravelZ;
        if (plan.struck.contains(FaultKind.LIMIT_CLOSE)) {
            limitClose(plan);
        }
        return plan;
    }

    /** Degrees from a sprocket at the end of the cassette to its mechanical limit; 0 where it is no such sprocket. */
    private double toLimit(int to, Direction direction) {
        OptionalDouble limit = limit(direction);
        boolean last = to == (direction == Direction.INBOARD ? profile.sprockets() : 1);
        return last && limit.isPresent() ? Math.abs(limit.getAsDouble() - profile.positionDeg(to)) : 0;
    }

    private OptionalDouble limit(Direction direction) {
        return direction == Direction.INBOARD ? profile.inboardLimitDeg() : profile.outboardLimitDeg();
    }

    /** The plateau itself, not the overtravel, keeps the distance, so that spread does not drive it into the stop. */
    private void limitClose(ShiftPlan plan) {
        double room = toLimit(plan.to, plan.direction);
        if (room == 0 || plan.goesTo != plan.to) {
            plan.struck.remove(FaultKind.LIMIT_CLOSE);
            return;
        }
        double aheadDeg = (plan.landingDeg - profile.positionDeg(plan.to)) * plan.direction.sign();
        plan.overtravelDeg -= aheadDeg;
    }
}
