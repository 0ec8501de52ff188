package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.shift.Tables.assertNotApplicable;
import static org.shiftstand.shift.Tables.onlyShiftIn;
import static org.shiftstand.shift.Tables.reason;
import static org.shiftstand.shift.Tables.tableOf;
import static org.shiftstand.shift.Tables.value;
import static org.shiftstand.shift.TrackBuilder.track;

import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Direction;

/** What each measure means, on tracks drawn without noise: straight lines, 512 Hz, band 20 deg unless said. */
class MeasureDefinitionsTest {
    /** A millisecond: only the interpolation between samples is left. */
    private static final double MS = 0.001;

    @Nested
    class A_plain_shift {
        // 700 deg in 125 ms (64 intervals): 5600 deg/s
        private final Shift shift = onlyShiftIn(track().restAt(0, 250)
                .request(Direction.INBOARD)
                .rest(25)
                .moveTo(700, 125)
                .rest(500));

        @Test
        void starts_and_lands_at_the_medians_of_its_rests() {
            assertThat(value(shift, Measure.START)).isCloseTo(0, within(1e-9));
            assertThat(value(shift, Measure.LANDING)).isCloseTo(700, within(1e-9));
        }

        @Test
        void is_asked_for_at_the_mark() {
            assertThat(value(shift, Measure.REQUEST)).isCloseTo(127.5 / 512, within(1e-9));
        }

        @Test
        void begins_to_move_where_it_leaves_start_by_the_band() {
            double lastAtRest = 140.0 / 512; // 250 ms and 25 ms of samples
            assertThat(value(shift, Measure.MOTION_START)).isCloseTo(lastAtRest + 20 / 5600.0, within(1e-9));
        }

        @Test
        void travels_until_it_first_reaches_landing_less_the_band() {
            double reached = 140.0 / 512 + 680 / 5600.0;
            assertThat(value(shift, Measure.TRAVEL_TIME))
                    .isCloseTo(reached - value(shift, Measure.REQUEST), within(1e-9));
        }

        @Test
        void settles_at_the_last_entry_into_the_band() {
            assertThat(value(shift, Measure.SETTLE_TIME)).isCloseTo(value(shift, Measure.TRAVEL_TIME), within(1e-9));
            assertThat(value(shift, Measure.SETTLED) - value(shift, Measure.REQUEST))
                    .isCloseTo(value(shift, Measure.SETTLE_TIME), within(1e-9));
        }

        @Test
        void has_no_overtravel_and_nothing_that_needs_a_plateau() {
            assertThat(value(shift, Measure.OVERTRAVEL)).isZero();
            assertNotApplicable(shift, Measure.PLATEAU);
            assertNotApplicable(shift, Measure.HOLD);
            assertNotApplicable(shift, Measure.REST_HOLD);
            assertNotApplicable(shift, Measure.RETURN_RINGING);
        }

        @Test
        void lands_complete() {
            assertThat(shift.outcome()).isEqualTo(Outcome.LANDED);
            assertThat(shift.evidence()).isEqualTo(Evidence.COMPLETE);
        }

        @Test
        void has_no_creep_being_the_first_and_no_wake_up_error_being_ungated() {
            assertNotApplicable(shift, Measure.CREEP);
            assertNotApplicable(shift, Measure.WAKE_UP_ERROR);
        }

        @Test
        void has_no_current_where_none_was_captured() {
            assertThat(reason(shift, Measure.PEAK_CURRENT)).contains("not captured");
            assertThat(reason(shift, Measure.CHARGE)).contains("not captured");
        }
    }

    @Nested
    class Ringing {
        @Test
        void after_the_landing_is_not_overtravel() {
            Shift shift = onlyShiftIn(
                    track().restAt(812, 300).moveTo(1148, 90).ringing(9, 60).restAt(1148, 600));

            assertThat(value(shift, Measure.OVERTRAVEL)).isZero();
            // 9 sin x exp(−t/30 ms) at its first peak, 20 Hz: 6.1 to 6.2 by sampling
            assertThat(value(shift, Measure.RINGING)).isCloseTo(6.13, within(0.1));
        }

        @Test
        void larger_than_the_band_is_still_not_overtravel_and_delays_settling() {
            Shift shift = onlyShiftIn(
                    track().restAt(0, 300).moveTo(700, 120).ringing(60, 200).rest(600));

            assertThat(value(shift, Measure.OVERTRAVEL)).isZero();
            assertThat(value(shift, Measure.RINGING)).isCloseTo(40.8, within(1.0));
            assertThat(value(shift, Measure.SETTLE_TIME)).isGreaterThan(value(shift, Measure.TRAVEL_TIME) + 10 * MS);
        }

        @Test
        void at_the_plateau_counts_from_the_plateau() {
            Shift shift = onlyShiftIn(track().restAt(0, 300)
                    .moveTo(1000, 120)
                    .ringing(30, 200)
                    .rest(500)
                    .moveTo(700, 80)
                    .rest(500));

            assertThat(value(shift, Measure.PLATEAU)).isCloseTo(1000, within(0.01));
            assertThat(value(shift, Measure.OVERTRAVEL)).isCloseTo(300, within(0.01));
            assertThat(value(shift, Measure.RINGING)).isCloseTo(20.4, within(0.5));
            assertThat(value(shift, Measure.EXTREME)).isCloseTo(1020.4, within(0.5));
        }

        @Test
        void past_the_landing_on_the_way_back_is_return_ringing() {
            Shift shift = onlyShiftIn(track().restAt(0, 300)
                    .moveTo(1000, 120)
                    .rest(500)
                    .moveTo(660, 80)
                    .moveTo(700, 30)
                    .rest(500));

            assertThat(value(shift, Measure.RETURN_RINGING)).isCloseTo(40, within(1e-6));
            assertThat(value(shift, Measure.RINGING)).isZero();
        }
    }

    @Nested
    class A_plateau {
        private final Shift shift = onlyShiftIn(track().restAt(0, 300)
                .moveTo(1000, 125)
                .restAt(1000, 500)
                .moveTo(700, 62.5)
                .rest(500));

        @Test
        void beyond_the_landing_is_overtravel_positive_in_the_direction_of_motion() {
            assertThat(value(shift, Measure.OVERTRAVEL)).isCloseTo(300, within(1e-6));
            assertThat(value(shift, Measure.PLATEAU)).isCloseTo(1000, within(1e-6));
            assertThat(value(shift, Measure.RETURN_RINGING)).isZero();
        }

        @Test
        void is_held_from_the_last_entry_into_its_band_to_the_first_exit() {
            // in at 8000 deg/s, out at 300 deg in 32 intervals = 4800 deg/s; 256 intervals of rest
            double rest = 256 / 512.0;
            assertThat(value(shift, Measure.HOLD)).isCloseTo(rest + 20 / 8000.0 + 20 / 4800.0, within(1e-9));
            assertThat(value(shift, Measure.REST_HOLD)).isCloseTo(rest + 10 / 8000.0 + 10 / 4800.0, within(1e-9));
        }

        @Test
        void is_positive_overtravel_outboard_too() {
            Shift out = onlyShiftIn(track().restAt(0, 300)
                    .moveTo(-800, 125)
                    .rest(500)
                    .moveTo(-700, 62.5)
                    .rest(500));

            assertThat(out.direction()).isEqualTo(Direction.OUTBOARD);
            assertThat(value(out, Measure.OVERTRAVEL)).isCloseTo(100, within(1e-6));
            assertThat(value(out, Measure.LANDING)).isCloseTo(-700, within(1e-6));
        }

        @Test
        void of_several_the_farthest_counts_and_the_others_are_noted() {
            Shift two = onlyShiftIn(track().restAt(0, 300)
                    .request(Direction.INBOARD)
                    .moveTo(900, 100)
                    .rest(300)
                    .moveTo(1000, 30)
                    .rest(300)
                    .moveTo(700, 60)
                    .rest(500));

            assertThat(value(two, Measure.OVERTRAVEL)).isCloseTo(300, within(1e-6));
            assertThat(two.notes()).anyMatch(n -> n.contains("another rest") && n.contains("200.0 deg"));
        }

        @Test
        void cut_short_is_doubtful_so_overtravel_is_not_measured() {
            Shift shortStay = onlyShiftIn(track().restAt(0, 300)
                    .moveTo(1000, 120)
                    .rest(80)
                    .moveTo(700, 60)
                    .rest(500));

            assertThat(reason(shortStay, Measure.OVERTRAVEL)).contains("may be a plateau");
            assertThat(reason(shortStay, Measure.HOLD)).contains("may be a plateau");
            assertThat(value(shortStay, Measure.LANDING)).isCloseTo(700, within(1e-6));
            assertThat(shortStay.outcome()).isEqualTo(Outcome.LANDED);
        }

        @Test
        void shorter_than_30_ms_is_a_turning_point() {
            Shift turn = onlyShiftIn(track().restAt(0, 300)
                    .moveTo(1000, 120)
                    .rest(20)
                    .moveTo(700, 60)
                    .rest(500));

            assertThat(value(turn, Measure.OVERTRAVEL)).isZero();
            assertThat(value(turn, Measure.RINGING)).isCloseTo(300, within(1e-6));
        }
    }

    @Nested
    class A_rest {
        /** Creeps into its place like a loop with friction does, then stays for a little more than the dwell. */
        private static TrackBuilder approach(double restMs) {
            TrackBuilder track = track().restAt(0, 300).moveTo(960, 120);
            double at = 960;
            for (int i = 0; i < 40; i++) {
                at += (1000 - at) * 0.15;
                track.moveTo(at, 1000.0 / 512);
            }
            return track.rest(restMs);
        }

        @Test
        void of_just_the_dwell_is_found_before_it_is_left() {
            for (int more = 0; more < 30; more += 2) {
                Shift shift = onlyShiftIn(approach(100 + more).moveTo(700, 60).rest(500));

                boolean plateau = shift.get(Measure.HOLD) instanceof Measured.Value;
                boolean doubtful = shift.get(Measure.OVERTRAVEL) instanceof Measured.NotMeasured;
                assertThat(plateau || doubtful).as("%d ms more", more).isTrue();
                if (more >= 14) { // within 10 deg of its median for 150 ms: from the ninth interval of the approach on
                    assertThat(plateau).as("%d ms more", more).isTrue();
                }
            }
        }

        @Test
        void of_just_the_dwell_is_found_before_samples_are_lost() {
            var shifts = tableOf(
                            approach(114).lost(80).rest(300).moveTo(1700, 120).rest(500))
                    .shifts();

            assertThat(value(shifts.get(1), Measure.CREEP)).isCloseTo(0, within(0.5));
        }
    }

    @Nested
    class Just_beyond_the_band {
        /** The few samples of the window before it returns must not be drawn along by a slow return. */
        @Test
        void a_plateau_is_one_though_it_is_left_slowly_in_another_window() {
            var shifts = tableOf(track().gated()
                            .restAt(0, 300)
                            .request(1, 2, 1)
                            .rest(25)
                            .moveTo(722, 120)
                            .rest(200)
                            .sleep(500)
                            .restAt(722, 12)
                            .moveTo(700, 100)
                            .rest(400))
                    .shifts();

            assertThat(value(shifts.get(0), Measure.LANDING)).isCloseTo(700, within(1e-6));
            assertThat(value(shifts.get(0), Measure.OVERTRAVEL)).isCloseTo(22, within(1e-6));
        }
    }

    @Nested
    class Creep {
        @Test
        void is_the_movement_between_two_shifts_positive_inboard() {
            var shifts = tableOf(track().gated()
                            .restAt(0, 20)
                            .moveTo(700, 120)
                            .rest(200)
                            .sleep(1000)
                            .restAt(703, 20)
                            .moveTo(1400, 120)
                            .rest(200)
                            .sleep(1000)
                            .restAt(1398, 20)
                            .moveTo(700, 120)
                            .rest(200))
                    .shifts();

            assertThat(shifts).hasSize(3);
            assertThat(value(shifts.get(1), Measure.CREEP)).isCloseTo(3, within(1e-6));
            assertThat(value(shifts.get(2), Measure.CREEP)).isCloseTo(-2, within(1e-6));
        }

        @Test
        void larger_than_the_band_is_creep_and_no_shift() {
            var shifts = tableOf(track().gated()
                            .restAt(0, 20)
                            .moveTo(700, 120)
                            .rest(200)
                            .sleep(1000)
                            .restAt(660, 20)
                            .moveTo(1400, 120)
                            .rest(200))
                    .shifts();

            assertThat(shifts).hasSize(2);
            assertThat(value(shifts.get(1), Measure.CREEP)).isCloseTo(-40, within(1e-6));
            assertThat(value(shifts.get(1), Measure.START)).isCloseTo(660, within(1e-6));
        }

        @Test
        void over_a_long_rest_shows_in_an_ungated_capture() {
            var shifts = tableOf(track().restAt(0, 500)
                            .moveTo(700, 120)
                            .rest(2500)
                            .moveTo(715, 60_000)
                            .rest(1500)
                            .moveTo(1400, 120)
                            .rest(500))
                    .shifts();

            assertThat(shifts).hasSize(2);
            assertThat(value(shifts.get(0), Measure.LANDING)).isCloseTo(700, within(0.01));
            assertThat(value(shifts.get(1), Measure.CREEP)).isCloseTo(15, within(0.01));
        }
    }

    @Nested
    class Wake_up_error {
        @Test
        void is_the_first_sample_of_a_window_against_the_resting_ones() {
            Shift shift = onlyShiftIn(track().gated()
                    .nextSampleShows(2.5)
                    .restAt(0, 20)
                    .moveTo(700, 120)
                    .rest(200));

            assertThat(value(shift, Measure.WAKE_UP_ERROR)).isCloseTo(2.5, within(1e-9));
            assertThat(value(shift, Measure.START)).isCloseTo(0, within(1e-9));
        }

        @Test
        void needs_four_resting_samples() {
            Shift shift =
                    onlyShiftIn(track().gated().restAt(0, 8).moveTo(700, 120).rest(200));

            assertThat(reason(shift, Measure.WAKE_UP_ERROR)).contains("fewer than 4");
        }
    }

    @Nested
    class Request_instant {
        @Test
        void without_marks_is_the_power_up_that_opens_the_shift_half_an_interval_before_its_first_row() {
            var shifts = tableOf(track().gated()
                            .restAt(0, 20)
                            .moveTo(700, 120)
                            .rest(200)
                            .sleep(1000)
                            .rest(20)
                            .moveTo(1400, 120)
                            .rest(200))
                    .shifts();

            double secondWindow = (10 + 61 + 102 + 512) / 512.0;
            assertThat(value(shifts.get(0), Measure.REQUEST)).isCloseTo(-0.5 / 512, within(1e-9));
            assertThat(value(shifts.get(1), Measure.REQUEST)).isCloseTo(secondWindow - 0.5 / 512, within(1e-9));
        }

        @Test
        void between_neighbours_is_at_the_middle() {
            Shift shift = onlyShiftIn(track().gated()
                    .power(false)
                    .restAt(0, 250)
                    .power(true)
                    .rest(20)
                    .moveTo(700, 125)
                    .rest(300));

            assertThat(value(shift, Measure.REQUEST)).isCloseTo(127.5 / 512, within(1e-9));
        }

        @Test
        void without_gating_is_the_onset_of_motion() {
            Shift shift = onlyShiftIn(track().restAt(0, 250).moveTo(700, 125).rest(300));

            // leaves start ± b/20 = 1 deg at 5600 deg/s
            assertThat(value(shift, Measure.REQUEST)).isCloseTo(127 / 512.0 + 1 / 5600.0, within(1e-9));
        }
    }

    @Nested
    class Current {
        @Test
        void is_summed_from_the_request_to_a_tenth_of_a_second_after_settling() {
            Shift shift = onlyShiftIn(track().current(0)
                    .restAt(0, 250)
                    .request(Direction.INBOARD)
                    .current(2)
                    .rest(25)
                    .moveTo(700, 125)
                    .rest(500));

            double from = value(shift, Measure.REQUEST);
            double to = value(shift, Measure.SETTLED) + 0.1;
            // half a step at the request: the current rises over one interval, of which the second half counts
            double rise = 0.5 / 512 * (1 + 2) / 2;
            assertThat(value(shift, Measure.CHARGE)).isCloseTo(2 * (to - from - 0.5 / 512) + rise, within(1e-9));
            assertThat(value(shift, Measure.PEAK_CURRENT)).isEqualTo(2);
            assertThat(reason(shift, Measure.ENERGY)).contains("voltage");
        }

        @Test
        void times_voltage_is_energy_where_voltage_is_captured() {
            Shift shift = onlyShiftIn(track().current(2)
                    .supplyMeasured()
                    .restAt(0, 250)
                    .request(Direction.INBOARD)
                    .rest(25)
                    .moveTo(700, 125)
                    .rest(500));

            assertThat(value(shift, Measure.ENERGY)).isCloseTo(8 * value(shift, Measure.CHARGE), within(1e-9));
        }

        @Test
        void while_the_sensors_are_off_counts_where_it_is_sampled() {
            Shift shift = onlyShiftIn(track().current(2)
                    .gated()
                    .restAt(0, 20)
                    .moveTo(1000, 125)
                    .rest(200)
                    .sensorsOff(300)
                    .rest(20)
                    .moveTo(700, 62.5)
                    .rest(300));

            double span = value(shift, Measure.SETTLED) + 0.1 - value(shift, Measure.REQUEST);
            assertThat(value(shift, Measure.CHARGE))
                    .isCloseTo(2 * span, within(0.003)); // half an interval at the start
            assertThat(shift.notes()).noneMatch(n -> n.startsWith("charge:"));
        }

        @Test
        void over_an_unsampled_stretch_with_the_sensors_off_is_stated() {
            Shift shift = onlyShiftIn(track().current(2)
                    .gated()
                    .restAt(0, 20)
                    .moveTo(1000, 125)
                    .rest(200)
                    .sleep(300)
                    .rest(20)
                    .moveTo(700, 62.5)
                    .rest(300));

            double span = value(shift, Measure.SETTLED) + 0.1 - value(shift, Measure.REQUEST);
            assertThat(value(shift, Measure.CHARGE)).isCloseTo(2 * (span - 155 / 512.0), within(0.003));
            assertThat(shift.notes()).anyMatch(n -> n.startsWith("charge: the sensors were off"));
        }
    }
}
