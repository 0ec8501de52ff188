package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.shift.Tables.profile;
import static org.shiftstand.shift.Tables.reason;
import static org.shiftstand.shift.Tables.value;
import static org.shiftstand.shift.TrackBuilder.track;

import java.util.Collections;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;

/** A record that ends, or whose supply is cut, while a shift rests at what may be its plateau; hold 700 ms. */
class MissingReturnTest {
    private static final Profile OVERTRAVEL = withOvertravel(300);
    private static final Profile NONE = withOvertravel(0);

    private static Profile withOvertravel(double deg) {
        Profile p = profile(0.0, 712.0, 1455.0, 2170.0);
        List<Double> each = Collections.nCopies(3, deg);
        return new Profile(
                p.name(),
                1,
                4,
                p.positionsDeg(),
                p.screwLeadMm(),
                p.outboardLimitDeg(),
                p.inboardLimitDeg(),
                p.holdS(),
                each,
                each,
                List.of(),
                "");
    }

    private static TrackBuilder shift(TrackBuilder track, int from, int to, double landing, double over) {
        return track.request(from, to, 1)
                .rest(20)
                .moveTo(landing + over, 120)
                .rest(700)
                .moveTo(landing, 60)
                .rest(1200);
    }

    /** Two whole shifts, then one that goes to its plateau and stays. */
    private static TrackBuilder atPlateau(double restMs) {
        TrackBuilder track = shift(shift(track().restAt(0, 600), 1, 2, 712, 300), 2, 3, 1455, 300);
        return track.request(3, 4, 1).rest(20).moveTo(2170 + 300, 120).rest(restMs);
    }

    private static Shift last(TrackBuilder track, Profile profile) {
        List<Shift> shifts = ShiftFinder.find(track, Optional.of(profile), ShiftOptions.defaults())
                .shifts();
        return shifts.get(shifts.size() - 1);
    }

    @Nested
    class The_record_ends_in_the_hold {
        @Test
        void overtravel_is_not_measured_and_not_0() {
            Shift shift = last(atPlateau(400), OVERTRAVEL);

            assertThat(shift.evidence()).isEqualTo(Evidence.PARTIAL);
            assertThat(shift.outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(reason(shift, Measure.OVERTRAVEL)).contains("a return may be missing");
            assertThat(reason(shift, Measure.LANDING)).contains("a return may be missing");
        }

        @Test
        void a_rest_longer_than_any_hold_is_a_landing() {
            Shift shift = last(atPlateau(900), OVERTRAVEL);

            assertThat(shift.evidence()).isEqualTo(Evidence.COMPLETE);
            assertThat(value(shift, Measure.OVERTRAVEL)).isZero();
        }

        @Test
        void a_pair_without_programmed_overtravel_has_landed() {
            TrackBuilder track = shift(track().restAt(0, 600), 1, 2, 712, 0);

            Shift shift = last(track.request(2, 3, 1).rest(20).moveTo(1455, 120).rest(400), NONE);

            assertThat(shift.evidence()).isEqualTo(Evidence.COMPLETE);
            assertThat(shift.outcome()).isEqualTo(Outcome.LANDED);
        }
    }

    @Nested
    class The_supply_is_cut_in_the_hold {
        @Test
        void the_shift_was_interrupted_and_its_overtravel_is_not_measured() {
            Shift shift = last(atPlateau(400).cutSupply().rest(3000), OVERTRAVEL);

            assertThat(shift.outcome()).isEqualTo(Outcome.INTERRUPTED);
            assertThat(shift.evidence()).isEqualTo(Evidence.COMPLETE);
            assertThat(reason(shift, Measure.OVERTRAVEL)).contains("the supply was cut");
            assertThat(reason(shift, Measure.LANDING_ERROR)).contains("the supply was cut");
        }

        @Test
        void also_where_the_next_shift_follows() {
            TrackBuilder track = atPlateau(400).cutSupply().rest(3000);
            track.request(4, 3, 2).rest(20).moveTo(1455, 120).rest(1200);

            List<Shift> shifts = ShiftFinder.find(track, Optional.of(OVERTRAVEL), ShiftOptions.defaults())
                    .shifts();

            assertThat(shifts.get(2).outcome()).isEqualTo(Outcome.INTERRUPTED);
            assertThat(shifts.get(3).outcome()).isEqualTo(Outcome.LANDED);
        }

        @Test
        void a_unit_that_returns_all_the_same_has_landed() {
            Shift shift =
                    last(atPlateau(400).cutSupply().rest(300).moveTo(2170, 60).rest(900), OVERTRAVEL);

            assertThat(shift.outcome()).isEqualTo(Outcome.LANDED);
            assertThat(value(shift, Measure.OVERTRAVEL)).isCloseTo(300, within(1e-6));
        }

        @Test
        void a_cut_long_after_it_came_to_rest_means_nothing() {
            Shift shift = last(atPlateau(2000).cutSupply().rest(3000), OVERTRAVEL);

            assertThat(shift.outcome()).isNotEqualTo(Outcome.INTERRUPTED);
            assertThat(value(shift, Measure.OVERTRAVEL)).isZero();
        }
    }

    /** bench-c: the clock stops between sensing windows, so that no hold is measured. */
    @Test
    void a_plateau_that_was_seen_is_enough_even_if_its_hold_is_not_measured() {
        Bench bench = Bench.load("bench-c");

        List<Shift> shifts = ShiftFinder.find(bench.track(), Optional.of(bench.profile()), bench.options())
                .shifts();
        Shift last = shifts.get(shifts.size() - 1);

        assertThat(last.get(Measure.PLATEAU)).isInstanceOf(Measured.Value.class);
        assertThat(last.evidence()).isNotEqualTo(Evidence.PARTIAL);
        assertThat(last.outcome()).isEqualTo(Outcome.LANDED);
        assertThat(last.get(Measure.HOLD)).isInstanceOf(Measured.NotMeasured.class);
    }
}
