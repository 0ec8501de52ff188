package org.shiftstand.shift;

import java.util.List;
import java.util.Optional;
import org.shiftstand.profile.Profile;

/** Whether a shift that was last seen at rest may have rested at its plateau, its return still to come. */
final class MissingReturn {
    /** Common practice, no published source. */
    private static final double USUAL_HOLD_S = 0.7;
    /** A plateau may last this much longer than programmed before a return is taken to be missing. */
    private static final double HOLD_ROOM = 1.1;

    /** What it would have changed. */
    static final List<Measure> CHANGES = List.of(
            Measure.LANDING,
            Measure.LANDING_ERROR,
            Measure.PLATEAU,
            Measure.OVERTRAVEL,
            Measure.RETURN_RINGING,
            Measure.HOLD,
            Measure.REST_HOLD,
            Measure.TRAVEL_TIME,
            Measure.SETTLED,
            Measure.SETTLE_TIME,
            Measure.CLEARANCE,
            Measure.PEAK_CURRENT,
            Measure.CHARGE,
            Measure.ENERGY);

    private MissingReturn() {}

    /** Whether a profile says what is programmed from one sprocket to the other. */
    static boolean known(Optional<Profile> profile, int from, int to) {
        return profile.isPresent()
                && Math.abs(to - from) == 1
                && Math.min(from, to) >= 1
                && Math.max(from, to) <= profile.get().sprockets();
    }

    /**
     * By the profile: overtravel is programmed, none was seen, what was seen of the rest is no longer than its hold, and the
     * shaft went past the landing: one that jammed on its way rests nowhere near its plateau.
     */
    static boolean byProfile(RawShift s, Profile profile, int from, int to) {
        double longestS = profile.holdS().orElse(USUAL_HOLD_S) * HOLD_ROOM;
        double overtravel = profile.overtravelDeg(from, to);
        double pitch = Math.abs(profile.positionDeg(to) - profile.positionDeg(from));
        boolean before = Math.abs(s.landingDeg - s.startDeg) < pitch + overtravel / 2;
        return !returned(s) && overtravel != 0 && s.seenAfterLandingS < longestS && !before;
    }

    /** Without a profile: any shift may have overtravel. */
    static boolean byUsualHold(RawShift s) {
        return !returned(s) && s.seenAfterLandingS < USUAL_HOLD_S * HOLD_ROOM;
    }

    private static boolean returned(RawShift s) {
        return s.measures.get(Measure.PLATEAU) instanceof Measured.Value;
    }
}
