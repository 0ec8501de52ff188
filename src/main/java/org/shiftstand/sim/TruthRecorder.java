package org.shiftstand.sim;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/**
 * Follows the noise-free motion and states each shift's truth once it is over. Uses the motion alone: never the samples,
 * never the code that decodes and measures.
 */
final class TruthRecorder {
    /** Settle band b, degrees. */
    static final double BAND_DEG = 20;

    private static final double DWELL_S = 0.150;

    /** How a shift ended, as the unit knows. */
    enum End {
        RESTED,
        STALLED,
        INTERRUPTED,
        NOT_SETTLED
    }

    private final Profile profile;
    private final Motion motion = new Motion();
    private final List<ShiftTruth> shifts = new ArrayList<>();
    private @Nullable ShiftPlan plan;
    private double startDeg;
    private double peakA;
    private String evidence = "complete";
    private OptionalDouble lastLandingDeg = OptionalDouble.empty();

    TruthRecorder(Profile profile) {
        this.profile = profile;
    }

    void begin(ShiftPlan plan, long nanos, double angleDeg) {
        this.plan = plan;
        startDeg = angleDeg;
        peakA = 0;
        evidence = "complete";
        motion.clear();
        motion.add(nanos, angleDeg);
    }

    /** The shaft is moved by something else than a shift: the next shift's creep has no meaning. */
    void moveOtherwise() {
        lastLandingDeg = OptionalDouble.empty();
    }

    boolean open() {
        return plan != null;
    }

    void point(long nanos, double angleDeg, double amps) {
        motion.add(nanos, angleDeg);
        peakA = Math.max(peakA, amps);
    }

    void evidence(String word) {
        evidence = word;
    }

    /** The shift is over: the angle last given held until then. */
    void end(End how, long nanos, double angleDeg) {
        ShiftPlan done = plan;
        if (done == null) {
            return;
        }
        plan = null;
        motion.add(nanos, angleDeg);
        ShiftTruth truth = measured(done, how);
        shifts.add(truth);
        lastLandingDeg = truth.landingDeg();
    }

    List<ShiftTruth> shifts() {
        return Collections.unmodifiableList(shifts);
    }

    private ShiftTruth measured(ShiftPlan done, End how) {
        int sign = done.direction.sign();
        int last = motion.size() - 1;
        boolean rested = how == End.RESTED || how == End.STALLED;
        double landing = motion.deg(last);
        double leaves = motion.leaves(startDeg, BAND_DEG, 0);
        boolean moved = !Double.isNaN(leaves);
        int plateau = rested ? plateau(landing, sign) : -1;
        double first = plateau < 0 ? landing : motion.deg(plateau);
        double extreme = motion.farthest(sign, 0);
        double settled = motion.enters(landing, BAND_DEG, last);
        double request = motion.seconds(0);
        boolean timed = rested && moved;
        double travelled = motion.reaches(landing - sign * BAND_DEG, sign);
        return new ShiftTruth(
                done.number,
                done.cycle,
                done.from,
                done.to,
                done.direction,
                outcome(done, how, moved, landing),
                evidence,
                request,
                startDeg,
                some(leaves, moved),
                some(landing, rested),
                some(first, plateau >= 0),
                some(plateau < 0 ? 0 : (first - landing) * sign, rested),
                some(Math.max(0, (extreme - first) * sign), timed),
                some(plateau < 0 ? 0 : Math.max(0, (landing - motion.farthest(-sign, plateau)) * sign), plateau >= 0),
                some(plateau < 0 ? 0 : stay(plateau, BAND_DEG), plateau >= 0),
                some(plateau < 0 ? 0 : stay(plateau, BAND_DEG / 2), plateau >= 0),
                some(travelled - request, timed && !Double.isNaN(travelled)),
                some(settled, timed),
                some(settled - request, timed),
                extreme,
                clearance(extreme, done.direction),
                lastLandingDeg.isPresent()
                        ? OptionalDouble.of(startDeg - lastLandingDeg.getAsDouble())
                        : OptionalDouble.empty(),
                peakA,
                List.copyOf(done.struck));
    }

    private static OptionalDouble some(double value, boolean exists) {
        return exists ? OptionalDouble.of(value) : OptionalDouble.empty();
    }

    /** Point at the end of the rest that lies farthest beyond the landing, at least b away; −1 for none. */
    private int plateau(double landing, int sign) {
        int best = -1;
        double farthest = BAND_DEG;
        for (int i = 1; i < motion.size(); i++) {
            boolean still = motion.deg(i) == motion.deg(i - 1);
            double beyond = (motion.deg(i) - landing) * sign;
            if (still && beyond >= farthest && stay(i, BAND_DEG / 2) >= DWELL_S) {
                best = i;
                farthest = beyond;
            }
        }
        return best;
    }

    private double stay(int point, double band) {
        double centre = motion.deg(point);
        return motion.leaves(centre, band, point) - motion.enters(centre, band, point);
    }

    private OptionalDouble clearance(double extreme, Direction direction) {
        OptionalDouble limit = direction == Direction.INBOARD ? profile.inboardLimitDeg() : profile.outboardLimitDeg();
        return limit.isPresent()
                ? OptionalDouble.of((limit.getAsDouble() - extreme) * direction.sign())
                : OptionalDouble.empty();
    }

    private String outcome(ShiftPlan done, End how, boolean moved, double landing) {
        if (how == End.INTERRUPTED) {
            return "interrupted";
        }
        if (how == End.NOT_SETTLED) {
            return "not-settled";
        }
        int sign = done.direction.sign();
        if ((landing - startDeg) * sign < -BAND_DEG) {
            return "reversed";
        }
        if (!moved) {
            return "missed";
        }
        double beyond = (landing - profile.positionDeg(done.to)) * sign;
        if (beyond < -halfPitch(done.to, -sign)) {
            return how == End.STALLED ? "stalled" : "short";
        }
        return beyond > halfPitch(done.to, sign) ? "double" : "landed";
    }

    /** Half the pitch from a sprocket to its neighbour on a side; at the end of the cassette, to the other neighbour. */
    private double halfPitch(int sprocket, int side) {
        int neighbour = sprocket + side;
        if (neighbour < 1 || neighbour > profile.sprockets()) {
            neighbour = sprocket - side;
        }
        return Math.abs(profile.positionDeg(neighbour) - profile.positionDeg(sprocket)) / 2;
    }
}
