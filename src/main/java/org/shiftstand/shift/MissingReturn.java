package org.shiftstand.shift;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.shiftstand.profile.Profile;

/** Whether a shift that was last seen at rest may have rested at its plateau, its return still to come. */
final class MissingReturn {
    /** Common practice, no published source. */
    private static final double USUAL_HOLD_S = 0.7;
    /** A plateau may last this much longer than programmed before a return is taken to be missing. */
    private static final double HOLD_ROOM = 1.1;
    /** Where overtravel is not known it may be no more than the usual settle band: less cannot be told from none, degrees. */
    private static final double LEAST_OVERTRAVEL_DEG = 20;

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

    /** What it may be the return of would have changed, and the ringing that belongs to the motion before. */
    static final List<Measure> NEED_THE_MOTION_BEFORE =
            Stream.concat(CHANGES.stream(), Stream.of(Measure.RINGING)).toList();

    private MissingReturn() {}

    /** Whether a profile knows both sprockets. Whether there is overtravel between them it may leave unknown. */
    static boolean known(Optional<Profile> profile, int from, int to) {
        return profile.isPresent()
                && Math.abs(to - from) == 1
                && Math.min(from, to) >= 1
                && Math.max(from, to) <= profile.get().sprockets();
    }

    /**
     * By the profile: overtravel is programmed or not known, none was seen, what was seen of the rest is no longer than its hold, and the
     * shaft went past the landing: one that jammed on its way rests nowhere near its plateau.
     */
    static boolean byProfile(RawShift s, Profile profile, int from, int to) {
        double longestS = profile.holdS().orElse(USUAL_HOLD_S) * HOLD_ROOM;
        double overtravel = profile.overtravel(from, to).orElse(LEAST_OVERTRAVEL_DEG);
        double pitch = Math.abs(profile.positionDeg(to) - profile.positionDeg(from));
        boolean before = Math.abs(s.landingDeg - s.startDeg) < pitch + overtravel / 2;
        return !returned(s) && overtravel != 0 && s.seenAfterLandingS < longestS && !before;
    }

    /** Without a profile: any shift may have overtravel. */
    static boolean byUsualHold(RawShift s) {
        return !returned(s) && s.seenAfterLandingS < USUAL_HOLD_S * HOLD_ROOM;
    }

    private static boolean returned(RawShift s) {
        return s.get(Measure.PLATEAU) instanceof Measured.Value;
    }
}
