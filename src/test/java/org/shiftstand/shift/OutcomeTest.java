package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.shift.Tables.assertNotApplicable;
import static org.shiftstand.shift.Tables.onlyShiftIn;
import static org.shiftstand.shift.Tables.profile;
import static org.shiftstand.shift.Tables.reason;
import static org.shiftstand.shift.Tables.tableOf;
import static org.shiftstand.shift.Tables.value;
import static org.shiftstand.shift.TrackBuilder.track;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.quantity.Direction;

/** What the unit did, and what was seen of it. Positions 0, 700, 1500, 2400 deg: invented. */
class OutcomeTest {
    /** 1→2→3→4→3→2→1 by script, each shift right; leaves the unit on sprocket 1, resting. */
    private static TrackBuilder sweep() {
        double[] at = {0, 700, 1500, 2400, 1500, 700, 0};
        int[] sprocket = {1, 2, 3, 4, 3, 2, 1};
        TrackBuilder track = track().restAt(0, 300);
        for (int i = 1; i < at.length; i++) {
            track.request(sprocket[i - 1], sprocket[i], 1)
                    .rest(25)
                    .moveTo(at[i], 120)
                    .rest(400);
        }
        return track;
    }

    private static Shift last(TrackBuilder track) {
        List<Shift> shifts = tableOf(track).shifts();
        return shifts.get(shifts.size() - 1);
    }

    @Nested
    class With_a_target {
        @Test
        void a_shift_that_rests_within_half_a_pitch_landed() {
            Shift shift =
                    last(sweep().request(1, 2, 2).rest(25).moveTo(900, 120).rest(400));

            assertThat(shift.outcome()).isEqualTo(Outcome.LANDED);
            assertThat(shift.cycle()).isEqualTo(2);
        }

        @Test
        void more_than_half_a_pitch_short_is_short() {
            Shift shift =
                    last(sweep().request(1, 2, 2).rest(25).moveTo(340, 120).rest(400));

            assertThat(shift.outcome()).isEqualTo(Outcome.SHORT);
            assertThat(shift.to()).isEqualTo(2);
        }

        @Test
        void short_with_current_at_the_end_is_stalled() {
            TrackBuilder track = sweep().request(1, 2, 2)
                    .current(1)
                    .rest(25)
                    .moveTo(340, 120)
                    .current(4)
                    .rest(200)
                    .current(0)
                    .rest(200);

            ShiftTable table = ShiftFinder.find(
                    track, Optional.empty(), ShiftOptions.defaults().withStallCurrentA(3));

            assertThat(table.shifts().get(6).outcome()).isEqualTo(Outcome.STALLED);
        }

        @Test
        void more_than_half_a_pitch_beyond_is_double() {
            Shift shift =
                    last(sweep().request(1, 2, 2).rest(25).moveTo(1480, 120).rest(400));

            assertThat(shift.outcome()).isEqualTo(Outcome.DOUBLE);
            assertThat(shift.to()).isEqualTo(2);
        }

        @Test
        void resting_against_the_request_is_reversed() {
            Shift shift =
                    last(sweep().request(1, 2, 2).rest(25).moveTo(-100, 120).rest(400));

            assertThat(shift.outcome()).isEqualTo(Outcome.REVERSED);
            assertThat(shift.direction()).isEqualTo(Direction.INBOARD);
        }

        @Test
        void never_leaving_the_start_is_missed() {
            Shift shift = last(sweep().request(1, 2, 2).rest(900));

            assertThat(shift.outcome()).isEqualTo(Outcome.MISSED);
            assertThat(shift.to()).isEqualTo(2);
            assertThat(value(shift, Measure.LANDING)).isCloseTo(0, within(1e-6));
            assertNotApplicable(shift, Measure.OVERTRAVEL);
            assertNotApplicable(shift, Measure.TRAVEL_TIME);
        }

        @Test
        void a_new_request_before_it_rests_interrupts() {
            List<Shift> shifts = tableOf(sweep().request(1, 2, 2)
                            .rest(25)
                            .moveTo(400, 60)
                            .request(2, 3, 2)
                            .moveTo(1500, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts.get(6).outcome()).isEqualTo(Outcome.INTERRUPTED);
            assertThat(reason(shifts.get(6), Measure.LANDING)).contains("next request");
            assertThat(shifts.get(7).outcome()).isEqualTo(Outcome.LANDED);
            assertThat(reason(shifts.get(7), Measure.START)).contains("moving at the request");
            assertThat(value(shifts.get(7), Measure.LANDING)).isCloseTo(1500, within(1e-6));
        }

        @Test
        void a_supply_cut_before_it_rests_interrupts() {
            Shift shift = last(sweep().request(1, 2, 2)
                    .rest(25)
                    .moveTo(400, 60)
                    .cutSupply()
                    .moveTo(500, 60)
                    .rest(400));

            assertThat(shift.outcome()).isEqualTo(Outcome.INTERRUPTED);
            assertThat(reason(shift, Measure.LANDING)).contains("supply was cut");
        }

        @Test
        void a_supply_cut_at_rest_interrupts_nothing() {
            Shift shift = last(sweep().request(1, 2, 2)
                    .rest(25)
                    .moveTo(700, 120)
                    .rest(400)
                    .cutSupply()
                    .rest(200));

            assertThat(shift.outcome()).isEqualTo(Outcome.LANDED);
        }

        @Test
        void a_capture_that_ends_in_such_hunting_has_not_settled_either() {
            List<Shift> shifts = tableOf(track().restAt(0, 400).moveTo(700, 120).hunting(60, 7000))
                    .shifts();

            assertThat(shifts).extracting(Shift::outcome).containsExactly(Outcome.NOT_SETTLED);
        }

        @Test
        void hunting_for_longer_than_a_shift_may_last_never_settled() {
            List<Shift> shifts = tableOf(sweep().request(1, 2, 2)
                            .rest(25)
                            .moveTo(700, 120)
                            .hunting(60, 7000)
                            .rest(400)
                            .request(2, 3, 2)
                            .rest(25)
                            .moveTo(1500, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts).hasSize(8);
            assertThat(shifts.get(6).outcome()).isEqualTo(Outcome.NOT_SETTLED);
            assertThat(reason(shifts.get(6), Measure.LANDING)).contains("never settled");
            assertThat(shifts.get(7).outcome()).isEqualTo(Outcome.LANDED);
        }

        @Test
        void starting_on_another_sprocket_is_displaced() {
            List<Shift> shifts = tableOf(sweep().request(1, 2, 2)
                            .rest(900)
                            .request(2, 3, 2)
                            .rest(25)
                            .moveTo(700, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts.get(6).outcome()).isEqualTo(Outcome.MISSED);
            assertThat(shifts.get(6).displaced()).isFalse();
            assertThat(shifts.get(7).displaced()).isTrue();
            assertThat(shifts.get(7).outcome()).isEqualTo(Outcome.SHORT);
        }

        @Test
        void homing_is_no_shift_of_the_table() {
            TrackBuilder track = track().restAt(300, 300)
                    .home()
                    .rest(25)
                    .moveTo(0, 120)
                    .rest(400)
                    .request(1, 2, 1)
                    .rest(25)
                    .moveTo(700, 120)
                    .rest(400);

            Shift shift = onlyShiftIn(track);

            assertThat(shift.number()).isEqualTo(1);
            assertThat(shift.from()).isEqualTo(1);
            assertThat(value(shift, Measure.CREEP)).isCloseTo(0, within(1e-6));
        }
    }

    @Nested
    class Without_a_target {
        @Test
        void the_sprocket_landed_on_is_the_target() {
            List<Shift> shifts = tableOf(track().restAt(0, 300)
                            .moveTo(700, 120)
                            .rest(400)
                            .moveTo(2400, 200)
                            .rest(400)
                            .moveTo(700, 200)
                            .rest(400))
                    .shifts();

            assertThat(shifts).extracting(s -> s.from() + ">" + s.to()).containsExactly("1>2", "2>3", "3>2");
            assertThat(shifts).extracting(Shift::outcome).containsOnly(Outcome.LANDED);
        }

        @Test
        void a_window_without_motion_is_a_missed_shift_that_stays() {
            List<Shift> shifts = tableOf(track().gated()
                            .restAt(0, 20)
                            .moveTo(700, 120)
                            .rest(200)
                            .sleep(500)
                            .rest(300)
                            .sleep(500)
                            .rest(20)
                            .moveTo(1500, 120)
                            .rest(200))
                    .shifts();

            assertThat(shifts).hasSize(3);
            assertThat(shifts.get(1).outcome()).isEqualTo(Outcome.MISSED);
            assertThat(shifts.get(1).to()).isEqualTo(shifts.get(1).from()).isEqualTo(2);
            assertThat(shifts.get(1).notes()).anyMatch(n -> n.startsWith("direction: not known"));
        }

        @Test
        void an_attempt_that_comes_back_at_once_is_short() {
            List<Shift> shifts = tableOf(track().gated()
                            .restAt(0, 20)
                            .moveTo(700, 120)
                            .rest(200)
                            .sleep(500)
                            .rest(20)
                            .moveTo(900, 40)
                            .moveTo(700, 40)
                            .rest(300)
                            .sleep(500)
                            .rest(20)
                            .moveTo(1500, 120)
                            .rest(200))
                    .shifts();

            assertThat(shifts)
                    .extracting(Shift::outcome)
                    .containsExactly(Outcome.LANDED, Outcome.SHORT, Outcome.LANDED);
        }
    }

    @Nested
    class Evidence_that_is_damaged {
        private TrackBuilder gapInMotion() {
            // 1→2 is lost in the middle: 720 deg of it are not seen, and the track goes on two turns too low
            return track().restAt(0, 300)
                    .moveTo(700, 120)
                    .rest(400)
                    .moveTo(1500, 120)
                    .rest(400)
                    .moveTo(2400, 120)
                    .rest(400)
                    .moveTo(1500, 120)
                    .rest(400)
                    .moveTo(1200, 50)
                    .lostTo(1160, 40)
                    .moveTo(1060, 50)
                    .rest(400)
                    .moveTo(360, 120)
                    .rest(400)
                    .moveTo(1060, 120)
                    .rest(400);
        }

        @Test
        void a_gap_in_the_motion_leaves_only_that_shift_unmeasured() {
            List<Shift> shifts = tableOf(gapInMotion()).shifts();

            assertThat(shifts)
                    .extracting(s -> s.from() + ">" + s.to())
                    .containsExactly("1>2", "2>3", "3>4", "4>3", "3>2", "2>1", "1>2");
            assertThat(shifts.get(4).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(shifts.get(4).evidence()).isEqualTo(Evidence.GAP);
            assertThat(reason(shifts.get(4), Measure.LANDING)).contains("missing");
            assertThat(value(shifts.get(4), Measure.START)).isCloseTo(1500, within(1e-6));
        }

        @Test
        void turns_lost_in_the_gap_are_found_again_by_where_it_rests() {
            List<Shift> shifts = tableOf(gapInMotion()).shifts();

            assertThat(value(shifts.get(5), Measure.START)).isCloseTo(700, within(1e-6));
            assertThat(value(shifts.get(5), Measure.LANDING)).isCloseTo(0, within(1e-6));
            assertThat(value(shifts.get(6), Measure.LANDING)).isCloseTo(700, within(1e-6));
        }

        @Test
        void half_turns_are_found_again_with_a_magnet_of_two_periods() {
            // three half turns too low behind the gap, instead of two whole ones
            TrackBuilder track = track().periods(2).restAt(0, 300);
            for (double to : new double[] {700, 1500, 2400, 1500}) {
                track.moveTo(to, 120).rest(400);
            }
            track.moveTo(1200, 50).lostTo(400, 40).moveTo(160, 50).rest(400);
            for (double to : new double[] {-540, 160}) {
                track.moveTo(to, 120).rest(400);
            }

            List<Shift> shifts = tableOf(track).shifts();

            assertThat(value(shifts.get(5), Measure.START)).isCloseTo(700, within(1e-6));
            assertThat(value(shifts.get(5), Measure.LANDING)).isCloseTo(0, within(1e-6));
            assertThat(value(shifts.get(6), Measure.LANDING)).isCloseTo(700, within(1e-6));
        }

        @Test
        void a_gap_up_to_the_next_request_interrupts_nothing() {
            List<Shift> shifts = tableOf(sweep().request(1, 2, 2)
                            .rest(25)
                            .moveTo(400, 60)
                            .lostTo(700, 500)
                            .request(2, 3, 2)
                            .rest(25)
                            .moveTo(1500, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts.get(6).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(shifts.get(6).evidence()).isEqualTo(Evidence.GAP);
            assertThat(reason(shifts.get(6), Measure.LANDING)).contains("missing");
        }

        @Test
        void a_gap_on_the_way_back_from_a_plateau_interrupts_nothing() {
            List<Shift> shifts = tableOf(sweep().request(1, 2, 2)
                            .rest(25)
                            .moveTo(780, 120)
                            .rest(400)
                            .moveTo(750, 20)
                            .lostTo(700, 500)
                            .request(2, 3, 2)
                            .rest(25)
                            .moveTo(1500, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts.get(6).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(reason(shifts.get(6), Measure.LANDING)).contains("missing");
        }

        @Test
        void a_gap_in_which_it_was_asked_is_remembered_however_long_it_rests_then() {
            List<Shift> shifts = tableOf(sweep().blocks(64)
                            .request(1, 2, 2)
                            .rest(25)
                            .moveTo(400, 60)
                            .lostTo(700, 500)
                            .request(2, 3, 2)
                            .rest(25)
                            .moveTo(1580, 120)
                            .rest(20_000)
                            .moveTo(1500, 60)
                            .rest(20_000))
                    .shifts();

            assertThat(shifts.get(7).evidence()).isEqualTo(Evidence.GAP);
            assertThat(reason(shifts.get(7), Measure.OVERTRAVEL)).contains("missing");
            assertThat(reason(shifts.get(7), Measure.TRAVEL_TIME)).contains("missing");
        }

        /** From 0 to 705 deg, which is seen as -15 deg: two turns are lost, and the two rests look like one. */
        @Test
        void a_gap_that_may_hide_the_whole_motion_is_no_missed_shift() {
            List<Shift> shifts = tableOf(sweep().request(1, 2, 2)
                            .rest(25)
                            .lostTo(-15, 300)
                            .rest(400)
                            .request(2, 3, 2)
                            .rest(25)
                            .moveTo(1500 - 720, 120)
                            .rest(400)
                            .request(3, 4, 2)
                            .rest(25)
                            .moveTo(2400 - 720, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts.get(6).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(shifts.get(7).outcome()).isEqualTo(Outcome.LANDED);
            assertThat(value(shifts.get(7), Measure.LANDING)).isCloseTo(1500, within(1e-6));
            assertThat(value(shifts.get(8), Measure.LANDING)).isCloseTo(2400, within(1e-6));
        }

        @Test
        void a_sensor_fault_in_the_motion_is_named() {
            Shift shift = onlyShiftIn(track().restAt(0, 300)
                    .moveTo(300, 50)
                    .fault(20)
                    .moveTo(700, 60)
                    .rest(400));

            assertThat(shift.evidence()).isEqualTo(Evidence.SENSOR_FAULT);
            assertThat(shift.outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(reason(shift, Measure.SETTLE_TIME)).contains("sensor fault");
        }

        @Test
        void a_gap_in_the_first_two_seconds_of_the_landing_damages_what_the_landing_is_taken_from() {
            Shift shift = onlyShiftIn(
                    track().restAt(0, 300).moveTo(700, 120).rest(300).lost(80).rest(300));

            assertThat(shift.evidence()).isEqualTo(Evidence.GAP);
            assertThat(reason(shift, Measure.LANDING)).contains("missing");
        }

        @Test
        void a_gap_long_after_the_landing_harms_nothing() {
            List<Shift> shifts = tableOf(track().restAt(0, 300)
                            .moveTo(700, 120)
                            .rest(5000)
                            .lost(400)
                            .rest(3000)
                            .moveTo(1400, 120)
                            .rest(400))
                    .shifts();

            assertThat(shifts).hasSize(2);
            assertThat(shifts).extracting(Shift::evidence).containsOnly(Evidence.COMPLETE);
            assertThat(value(shifts.get(1), Measure.CREEP)).isCloseTo(0, within(1e-6));
        }

        @Test
        void a_capture_that_starts_in_a_motion_is_partial() {
            List<Shift> shifts = tableOf(
                            track().moveTo(700, 120).rest(400).moveTo(1400, 120).rest(400))
                    .shifts();

            assertThat(shifts).hasSize(2);
            assertThat(shifts.get(0).evidence()).isEqualTo(Evidence.PARTIAL);
            assertThat(shifts.get(0).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(reason(shifts.get(0), Measure.START)).contains("starts in the motion");
            assertThat(value(shifts.get(0), Measure.LANDING)).isCloseTo(700, within(1e-6));
            assertThat(shifts.get(1).outcome()).isEqualTo(Outcome.LANDED);
        }

        @Test
        void a_capture_that_ends_in_a_motion_is_partial() {
            List<Shift> shifts = tableOf(
                            track().restAt(0, 300).moveTo(700, 120).rest(400).moveTo(1000, 60))
                    .shifts();

            assertThat(shifts).hasSize(2);
            assertThat(shifts.get(1).evidence()).isEqualTo(Evidence.PARTIAL);
            assertThat(shifts.get(1).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(reason(shifts.get(1), Measure.LANDING)).contains("capture ends");
            assertThat(value(shifts.get(1), Measure.START)).isCloseTo(700, within(1e-6));
        }

        @Test
        void a_stopped_clock_hides_hold_and_settling_but_not_angles_and_travel() {
            Shift shift = onlyShiftIn(track().restAt(0, 20)
                    .moveTo(1000, 120)
                    .rest(200)
                    .clockStops()
                    .rest(20)
                    .moveTo(700, 60)
                    .rest(300));

            assertThat(shift.evidence()).isEqualTo(Evidence.CLOCK_STOPPED);
            assertThat(shift.outcome()).isEqualTo(Outcome.LANDED);
            assertThat(reason(shift, Measure.HOLD)).contains("clock stopped");
            assertThat(reason(shift, Measure.SETTLE_TIME)).contains("clock stopped");
            assertThat(value(shift, Measure.OVERTRAVEL)).isCloseTo(300, within(1e-6));
            assertThat(value(shift, Measure.TRAVEL_TIME)).isGreaterThan(0);
        }

        @Test
        void a_clock_that_runs_on_while_the_sensors_are_off_measures_hold() {
            Shift shift = onlyShiftIn(track().gated()
                    .restAt(0, 20)
                    .moveTo(1000, 125)
                    .rest(200)
                    .sleep(300)
                    .rest(20)
                    .moveTo(700, 62.5)
                    .rest(300));

            double rest = (102 + 154 + 10) / 512.0;
            assertThat(value(shift, Measure.HOLD)).isCloseTo(rest + 20 / 8000.0 + 20 / 4800.0, within(1e-9));
        }
    }

    @Nested
    class Turn_lost {
        @Test
        void is_flagged_where_landings_miss_every_nominal_after_a_window() {
            TrackBuilder track = track().gated().restAt(0, 20).moveTo(400, 120).rest(200);
            for (double[] m : new double[][] {{400, 850}, {850, 1350}, {1350, 850}, {850, 400}, {400, 0}}) {
                track.sleep(500).restAt(m[0], 20).moveTo(m[1], 120).rest(200);
            }
            // it was turned by 190 deg by hand while it slept: the track shows the smaller way round
            track.sleep(500).restAt(-170, 20).moveTo(230, 120).rest(200);
            track.sleep(500).restAt(230, 20).moveTo(680, 120).rest(200);

            ShiftTable table =
                    ShiftFinder.find(track, Optional.of(profile(0.0, 400.0, 850.0, 1350.0)), ShiftOptions.defaults());

            assertThat(table.turnLostFrom()).hasValue(7);
            assertThat(table.notices()).anyMatch(n -> n.startsWith("turn lost: in shifts 7–8 "));
        }

        @Test
        void says_by_how_much_angles_may_be_off_with_a_magnet_of_two_periods() {
            TrackBuilder track =
                    track().periods(2).gated().restAt(0, 20).moveTo(400, 120).rest(200);
            for (double[] m : new double[][] {{400, 850}, {850, 1350}, {1350, 850}, {850, 400}, {400, 0}}) {
                track.sleep(500).restAt(m[0], 20).moveTo(m[1], 120).rest(200);
            }
            track.sleep(500).restAt(-80, 20).moveTo(320, 120).rest(200);
            track.sleep(500).restAt(230, 20).moveTo(680, 120).rest(200);

            ShiftTable table =
                    ShiftFinder.find(track, Optional.of(profile(0.0, 400.0, 850.0, 1350.0)), ShiftOptions.defaults());

            assertThat(table.notices()).anyMatch(n -> n.endsWith(" angles may be half turns off and are not measured"));
        }
    }
}
