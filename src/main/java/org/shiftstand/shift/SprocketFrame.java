package org.shiftstand.shift;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;

/** The measures of a shift that need sprockets, their positions or limits: the frame that the track is laid into. */
final class SprocketFrame {
    private final Numbering numbering;
    private final Optional<Profile> profile;
    private final ShiftOptions options;

    SprocketFrame(Numbering numbering, Optional<Profile> profile, ShiftOptions options) {
        this.numbering = numbering;
        this.profile = profile;
        this.options = options;
    }

    /** Turns angles of the track into angles of the frame. */
    void place(Map<Measure, Measured> measures) {
        for (Measure m : List.of(Measure.START, Measure.PLATEAU, Measure.LANDING, Measure.EXTREME)) {
            change(measures, m, numbering.sense().sign(), numbering.offsetDeg());
        }
        change(measures, Measure.WAKE_UP_ERROR, numbering.sense().sign(), 0);
    }

    private static void change(Map<Measure, Measured> measures, Measure m, double times, double plus) {
        Measured now = measures.get(m);
        if (now != null && now.number().isPresent()) {
            measures.put(m, new Measured.Value(now.number().getAsDouble() * times + plus));
        }
    }

    void landingError(Map<Measure, Measured> measures, double landing, int to, boolean turnLost) {
        if (measures.containsKey(Measure.LANDING_ERROR)) {
            return;
        }
        Double nominal = (numbering.aligned() ? numbering.positions() : numbering.centres()).get(to);
        if (turnLost) {
            measures.put(Measure.LANDING_ERROR, new Measured.NotMeasured("turn lost"));
        } else if (nominal == null || Double.isNaN(landing)) {
            measures.put(Measure.LANDING_ERROR, new Measured.NotMeasured("no position is known for sprocket " + to));
        } else {
            measures.put(Measure.LANDING_ERROR, new Measured.Value(landing - nominal));
        }
    }

    void clearance(Map<Measure, Measured> measures, RawShift s, boolean turnLost) {
        if (measures.containsKey(Measure.CLEARANCE)) {
            return;
        }
        if (Double.isNaN(s.extremeDeg) || s.motionSign == 0) {
            measures.put(Measure.CLEARANCE, new Measured.NotApplicable());
            return;
        }
        int side = s.motionSign * numbering.sense().sign();
        OptionalDouble limit = limit(side);
        double extreme = numbering.place(s.extremeDeg);
        String reason = null;
        if (limit.isEmpty()) {
            reason = "no mechanical limit is known on that side";
        } else if (!numbering.aligned()) {
            reason = "limits need a profile that the landings are aligned to";
        } else if (turnLost) {
            reason = "turn lost";
        }
        measures.put(
                Measure.CLEARANCE,
                reason == null
                        ? new Measured.Value((limit.getAsDouble() - extreme) * side)
                        : new Measured.NotMeasured(reason));
    }

    private OptionalDouble limit(int side) {
        OptionalDouble own = side > 0 ? options.inboardLimitDeg() : options.outboardLimitDeg();
        if (own.isPresent() || profile.isEmpty()) {
            return own;
        }
        return side > 0 ? profile.get().inboardLimitDeg() : profile.get().outboardLimitDeg();
    }
}
