package org.shiftstand.planning.cassette;

import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.shiftstand.stats.ToleranceFactor;

/**
 * How the shifts of a unit, or of a kind of unit, were seen to scatter; from captures, a learned file or a person's word.
 *
 * @param landingSdDeg standard deviation of landings about the mean of their sprocket and direction, degrees; empty where it
 *     is not known
 * @param shifts how many independent shifts that standard deviation is worth: its degrees of freedom plus 1, at least 2; empty
 *     takes it as exact
 * @param offsetDeg how far mean landings lie off their positions at most, degrees; 0 where nobody tells
 * @param ringingMaxDeg largest ringing or return ringing, degrees; empty where it is not known
 * @param uncertaintyDeg expanded uncertainty of an angle (k = 2), degrees
 * @param from where this comes from, for readers: {@code the options}, {@code bench-a.csv}
 */
public record ObservedSpread(
        OptionalDouble landingSdDeg,
        OptionalInt shifts,
        double offsetDeg,
        OptionalDouble ringingMaxDeg,
        double uncertaintyDeg,
        String from) {
    /** Twice the 0.5 deg by which an angle is uncertain where a capture supports nothing better. */
    public static final double USUAL_UNCERTAINTY_DEG = 1;

    /** Factors change in the fourth digit from here on. */
    private static final int AS_GOOD_AS_EXACT = 100_000;

    public ObservedSpread {
        if (landingSdDeg.stream().anyMatch(sd -> !(sd >= 0))
                || shifts.stream().anyMatch(n -> n < 2)
                || ringingMaxDeg.stream().anyMatch(deg -> !(deg >= 0))
                || !(offsetDeg >= 0)
                || !(uncertaintyDeg >= 0)) {
            throw new IllegalArgumentException("angles of 0 or more, two shifts or more: landingSdDeg=" + landingSdDeg
                    + ", shifts=" + shifts + ", offsetDeg=" + offsetDeg + ", ringingMaxDeg=" + ringingMaxDeg
                    + ", uncertaintyDeg=" + uncertaintyDeg);
        }
    }

    /** Nobody knows. */
    public static ObservedSpread unknown() {
        return new ObservedSpread(
                OptionalDouble.empty(), OptionalInt.empty(), 0, OptionalDouble.empty(), USUAL_UNCERTAINTY_DEG, "");
    }

    /** Factor k by which the standard deviation is widened: of a two-sided tolerance interval; normal where it is exact. */
    public double factor(RoomRule rule) {
        if (shifts.isEmpty()) {
            return new NormalDistribution(null, 0, 1).inverseCumulativeProbability((1 + rule.coverage()) / 2);
        }
        return ToleranceFactor.twoSided(
                Math.min(shifts.getAsInt(), AS_GOOD_AS_EXACT), rule.coverage(), rule.confidence());
    }
}
