package org.shiftstand.profile;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;

/**
 * What is nominal for a kind of unit. Angles in degrees of output shaft, positive inboard, zero at sprocket 1.
 *
 * @param name identifier
 * @param version of the profile's text
 * @param sprockets N
 * @param positionsDeg nominal landing of sprockets 1…N, ascending, length N
 * @param screwLeadMm millimetres of cage travel a turn of the screw
 * @param outboardLimitDeg mechanical limit beyond sprocket 1, where known
 * @param inboardLimitDeg mechanical limit beyond sprocket N, where known
 * @param holdS programmed hold at the overtravel plateau, seconds
 * @param overtravelInboardDeg 1→2, 2→3, … length N − 1; 0 for none, NaN where it is not known
 * @param overtravelOutboardDeg N→N−1, … 2→1, length N − 1; likewise
 * @param cassette tooth counts of sprockets 1…N; empty where not given
 * @param sha256 digest of the file's text
 */
public record Profile(
        String name,
        int version,
        int sprockets,
        List<Double> positionsDeg,
        OptionalDouble screwLeadMm,
        OptionalDouble outboardLimitDeg,
        OptionalDouble inboardLimitDeg,
        OptionalDouble holdS,
        List<Double> overtravelInboardDeg,
        List<Double> overtravelOutboardDeg,
        List<Integer> cassette,
        String sha256) {
    public Profile {
        positionsDeg = List.copyOf(positionsDeg);
        overtravelInboardDeg = List.copyOf(overtravelInboardDeg);
        overtravelOutboardDeg = List.copyOf(overtravelOutboardDeg);
        cassette = List.copyOf(cassette);
    }

    /**
     * The same with a unit's own mechanical limits, which go before those of the profile.
     *
     * @param outboardDeg empty leaves what the profile says
     * @param inboardDeg likewise
     */
    public Profile withLimits(OptionalDouble outboardDeg, OptionalDouble inboardDeg) {
        return new Profile(
                name,
                version,
                sprockets,
                positionsDeg,
                screwLeadMm,
                outboardDeg.isPresent() ? outboardDeg : outboardLimitDeg,
                inboardDeg.isPresent() ? inboardDeg : inboardLimitDeg,
                holdS,
                overtravelInboardDeg,
                overtravelOutboardDeg,
                cassette,
                sha256);
    }

    /** Nominal landing of a sprocket, 1…N, degrees. */
    public double positionDeg(int sprocket) {
        return positionsDeg.get(sprocket - 1);
    }

    /** The sprocket, 1…N, whose nominal landing is nearest to an angle; of two the outboard one. */
    public int nearestSprocket(double deg) {
        int best = 1;
        for (int k = 2; k <= sprockets; k++) {
            if (Math.abs(deg - positionDeg(k)) < Math.abs(deg - positionDeg(best))) {
                best = k;
            }
        }
        return best;
    }

    /**
     * Nominal overtravel of a shift between neighbours, degrees; of a longer shift that of its last step. 0 for none; empty
     * where the profile says {@code unknown}.
     */
    public OptionalDouble overtravel(int from, int to) {
        double deg = to > from ? overtravelInboardDeg.get(to - 2) : overtravelOutboardDeg.get(sprockets - to - 1);
        return Double.isNaN(deg) ? OptionalDouble.empty() : OptionalDouble.of(deg);
    }

    /** The same for whoever has asked {@link #unknownOvertravel} before: an unknown row is refused. */
    public double overtravelDeg(int from, int to) {
        return overtravel(from, to)
                .orElseThrow(() -> new IllegalStateException(
                        "the overtravel is not known: profile=" + name + ", from=" + from + ", to=" + to));
    }

    /** Shifts between neighbours whose overtravel is not known, as {@code 7→8}: inboard from 1, then outboard from N. */
    public List<String> unknownOvertravel() {
        var unknown = new ArrayList<String>();
        for (int k = 1; k < sprockets; k++) {
            if (overtravel(k, k + 1).isEmpty()) {
                unknown.add(k + "→" + (k + 1));
            }
        }
        for (int k = sprockets; k > 1; k--) {
            if (overtravel(k, k - 1).isEmpty()) {
                unknown.add(k + "→" + (k - 1));
            }
        }
        return unknown;
    }
}
