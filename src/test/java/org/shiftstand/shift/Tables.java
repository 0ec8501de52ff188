package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.profile.Profile;

/** Short words for tests. */
final class Tables {
    private Tables() {}

    static ShiftTable tableOf(TrackBuilder track) {
        return ShiftFinder.find(track, Optional.empty(), ShiftOptions.defaults());
    }

    static Shift onlyShiftIn(TrackBuilder track) {
        List<Shift> shifts = tableOf(track).shifts();
        assertThat(shifts).hasSize(1);
        return shifts.get(0);
    }

    static double value(Shift shift, Measure measure) {
        return shift.get(measure)
                .number()
                .orElseThrow(() -> new AssertionError(measure.key() + " is " + shift.get(measure)));
    }

    static String reason(Shift shift, Measure measure) {
        assertThat(shift.get(measure)).as(measure.key()).isInstanceOf(Measured.NotMeasured.class);
        return ((Measured.NotMeasured) shift.get(measure)).reason();
    }

    static void assertNotApplicable(Shift shift, Measure measure) {
        assertThat(shift.get(measure)).as(measure.key()).isInstanceOf(Measured.NotApplicable.class);
    }

    /** Invented: uneven pitches, so that neither sense nor numbers can be taken for others. */
    static Profile profile(Double... positions) {
        return new Profile(
                "invented",
                1,
                positions.length,
                List.of(positions),
                OptionalDouble.empty(),
                OptionalDouble.of(positions[0] - 500),
                OptionalDouble.of(positions[positions.length - 1] + 400),
                OptionalDouble.of(0.7),
                Collections.nCopies(positions.length - 1, 0.0),
                Collections.nCopies(positions.length - 1, 0.0),
                List.of(),
                "");
    }
}
