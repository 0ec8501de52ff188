package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.shift.Tables.assertNotApplicable;
import static org.shiftstand.shift.Tables.profile;
import static org.shiftstand.shift.Tables.reason;
import static org.shiftstand.shift.Tables.value;
import static org.shiftstand.shift.TrackBuilder.track;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/** A run that is broken off and goes on later: what its table says of the shifts on both sides. */
class BreakShiftsTest {
    private static final double[] AT = {Double.NaN, 0, 712, 1455, 2170, 2930};

    /** Homing from a sprocket, on a track whose angles are whole turns off by so much. */
    private static TrackBuilder homing(TrackBuilder track, int from, double offDeg) {
        track.restAt(AT[from] + offDeg, 600);
        for (int k = from - 1; k >= 1; k--) {
            track.home().rest(20).moveTo(AT[k] + offDeg, 100).rest(1000);
        }
        return track.home().rest(1200).home().rest(1200);
    }

    private static TrackBuilder shift(TrackBuilder track, int from, int to, int cycle, double offDeg) {
        return track.request(from, to, cycle)
                .rest(20)
                .moveTo(AT[to] + offDeg, 100)
                .rest(1200);
    }

    private static TrackBuilder homed() {
        return homing(track(), 2, 0);
    }

    /** Up to sprocket 3 of the first cycle. */
    private static TrackBuilder begun() {
        return shift(shift(homed(), 1, 2, 1, 0), 2, 3, 1, 0);
    }

    /** After a break: homing, the way back to sprocket 3, the last two shifts of the cycle. */
    private static TrackBuilder goneOn(TrackBuilder track, int foundAt, double offDeg) {
        homing(track, foundAt, offDeg);
        shift(shift(track, 1, 2, 0, offDeg), 2, 3, 0, offDeg);
        return shift(shift(track, 3, 2, 1, offDeg), 2, 1, 1, offDeg);
    }

    private static Profile fiveSprockets(double overtravelDeg) {
        Profile even = profile(0.0, 712.0, 1455.0, 2170.0, 2930.0);
        List<Double> overtravel = java.util.Collections.nCopies(4, overtravelDeg);
        return new Profile(
                even.name(),
                1,
                5,
                even.positionsDeg(),
                even.screwLeadMm(),
                even.outboardLimitDeg(),
                even.inboardLimitDeg(),
                even.holdS(),
                overtravel,
                overtravel,
                List.of(),
                "");
    }

    private static ShiftTable tableOf(TrackBuilder track, Profile profile) {
        return ShiftFinder.find(track, Optional.of(profile), ShiftOptions.defaults());
    }

    private static Resumption onlyBreak(ShiftTable table) {
        assertThat(table.resumptions()).hasSize(1);
        return table.resumptions().get(0);
    }

    @Nested
    class While_it_rests {
        private final ShiftTable table = Tables.tableOf(goneOn(begun().breakOff(60_000), 3, 0));

        @Test
        void no_shift_is_lost_and_none_is_made_of_homing_or_the_way_back() {
            assertThat(table.shifts())
                    .extracting(s -> s.from() + ">" + s.to() + " " + s.outcome() + " " + s.evidence())
                    .containsExactly(
                            "1>2 LANDED COMPLETE", "2>3 LANDED COMPLETE", "3>2 LANDED COMPLETE", "2>1 LANDED COMPLETE");
            assertThat(table.shifts()).extracting(Shift::cycle).containsOnly(1);
            assertThat(onlyBreak(table).brokenOff()).isEmpty();
            assertThat(onlyBreak(table).shiftsBefore()).isEqualTo(2);
        }

        @Test
        void it_is_told_in_one_notice_with_place_duration_and_cause() {
            assertThat(table.notices())
                    .filteredOn(n -> n.contains("broken off"))
                    .singleElement()
                    .asString()
                    .matches(
                            "the run was broken off at \\d+\\.\\d{3} s and went on 60\\.002 s later by the record's clock"
                                    + " \\(the program was gone\\): no shift was broken off; the angles after it follow those"
                                    + " before by the rest after homing");
        }
    }

    @Nested
    class While_a_shift_moves {
        private final TrackBuilder track =
                goneOn(begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000), 2, 0);
        private final ShiftTable table = Tables.tableOf(track);

        @Test
        void it_stays_in_the_table_broken_off_in_no_cycle() {
            Shift shift = table.shifts().get(2);

            assertThat(shift.from() + ">" + shift.to()).isEqualTo("3>2");
            assertThat(shift.cycle()).isZero();
            assertThat(shift.outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(shift.evidence()).isEqualTo(Evidence.PARTIAL);
            assertThat(shift.notes())
                    .containsExactly("outcome: the run was broken off in the shift, in cycle 1; no clause is about it");
            assertThat(reason(shift, Measure.LANDING)).isEqualTo("the run was broken off in the shift");
            assertThat(reason(shift, Measure.TRAVEL_TIME)).isEqualTo("the run was broken off in the shift");
            assertThat(value(shift, Measure.START)).isCloseTo(1455, within(1e-9));
            assertThat(table.brokenOff(shift)).isTrue();
            assertThat(onlyBreak(table).brokenOff()).hasValue(3);
        }

        @Test
        void it_is_made_again_in_its_cycle() {
            assertThat(table.shifts()).hasSize(5);
            Shift again = table.shifts().get(3);

            assertThat(again.from() + ">" + again.to()).isEqualTo("3>2");
            assertThat(again.cycle()).isEqualTo(1);
            assertThat(again.outcome()).isEqualTo(Outcome.LANDED);
            assertThat(value(again, Measure.LANDING)).isCloseTo(712, within(1e-9));
        }

        @Test
        void a_cut_of_the_supply_before_the_break_changes_nothing() {
            ShiftTable cut = Tables.tableOf(goneOn(
                    begun().request(3, 2, 1)
                            .rest(20)
                            .moveTo(1000, 60)
                            .cutSupply()
                            .moveTo(950, 30)
                            .rest(1500)
                            .breakOff(60_000),
                    2,
                    0));

            assertThat(cut.shifts().get(2).outcome()).isEqualTo(Outcome.UNKNOWN);
            assertThat(cut.shifts().get(2).evidence()).isEqualTo(Evidence.PARTIAL);
            assertThat(onlyBreak(cut).brokenOff()).hasValue(3);
        }

        @Test
        void a_request_that_could_not_show_its_motion_any_more_is_broken_off_too() {
            ShiftTable late =
                    Tables.tableOf(goneOn(begun().request(3, 2, 1).rest(100).breakOff(60_000), 3, 0));

            assertThat(onlyBreak(late).brokenOff()).hasValue(3);
        }

        @Test
        void a_request_after_the_last_sample_is_broken_off_too() {
            TrackBuilder asked = begun();
            asked.request(3, 2, 1);

            ShiftTable late = Tables.tableOf(goneOn(asked.breakOff(60_000), 3, 0));

            assertThat(onlyBreak(late).brokenOff()).hasValue(3);
            assertThat(late.shifts().get(2).outcome()).isEqualTo(Outcome.UNKNOWN);
        }
    }

    @Nested
    class In_the_hold {
        private TrackBuilder atPlateau(double restMs) {
            return begun().request(3, 4, 1).rest(20).moveTo(2170 + 300, 120).rest(restMs);
        }

        @Test
        void a_shift_whose_return_is_programmed_is_broken_off() {
            ShiftTable table = tableOf(goneOn(atPlateau(400).breakOff(60_000), 4, 0), fiveSprockets(300));

            assertThat(onlyBreak(table).brokenOff()).hasValue(3);
            assertThat(table.shifts().get(2).get(Measure.OVERTRAVEL)).isInstanceOf(Measured.NotMeasured.class);
        }

        @Test
        void without_a_profile_any_rest_no_longer_than_a_usual_hold_may_be_a_plateau() {
            assertThat(onlyBreak(Tables.tableOf(goneOn(atPlateau(400).breakOff(60_000), 4, 0)))
                            .brokenOff())
                    .hasValue(3);
        }

        @Test
        void its_plateau_is_no_landing_that_others_are_measured_against() {
            ShiftTable table = Tables.tableOf(goneOn(atPlateau(400).breakOff(60_000), 4, 0));

            assertThat(table.sprockets()).isEqualTo(4); // asked for, never landed on
            assertThat(value(table.shifts().get(1), Measure.LANDING_ERROR)).isCloseTo(0, within(1e-9));
        }

        @Test
        void a_shift_without_programmed_overtravel_counts_as_soon_as_it_rests() {
            ShiftTable table = tableOf(
                    goneOn(
                            begun().request(3, 4, 1)
                                    .rest(20)
                                    .moveTo(2170, 120)
                                    .rest(400)
                                    .breakOff(60_000),
                            4,
                            0),
                    fiveSprockets(0));

            assertThat(onlyBreak(table).brokenOff()).isEmpty();
            assertThat(table.shifts().get(2).outcome()).isEqualTo(Outcome.LANDED);
            assertThat(table.shifts().get(2).evidence()).isEqualTo(Evidence.COMPLETE);
            assertThat(value(table.shifts().get(2), Measure.LANDING)).isCloseTo(2170, within(1e-9));
        }

        @Test
        void a_shift_that_has_returned_counts_as_soon_as_it_rests() {
            ShiftTable table = tableOf(
                    goneOn(atPlateau(700).moveTo(2170, 60).rest(300).breakOff(60_000), 4, 0), fiveSprockets(300));

            assertThat(onlyBreak(table).brokenOff()).isEmpty();
            assertThat(value(table.shifts().get(2), Measure.OVERTRAVEL)).isCloseTo(300, within(1e-9));
        }

        @Test
        void a_cut_of_the_supply_ends_what_was_seen_of_the_hold() {
            TrackBuilder cut = atPlateau(400).cutSupply().rest(3000).breakOff(60_000);

            assertThat(onlyBreak(tableOf(goneOn(cut, 4, 0), fiveSprockets(300))).brokenOff())
                    .hasValue(3);
        }
    }

    @Nested
    class Angles_behind_it {
        @Test
        void follow_those_before_by_the_rest_after_homing() {
            ShiftTable table = Tables.tableOf(goneOn(begun().breakOff(60_000), 3, -7 * 360));

            assertThat(onlyBreak(table).turns()).hasValue(7);
            assertThat(value(table.shifts().get(2), Measure.START)).isCloseTo(1455, within(1e-9));
            assertThat(value(table.shifts().get(2), Measure.LANDING)).isCloseTo(712, within(1e-9));
            assertThat(value(table.shifts().get(3), Measure.LANDING)).isCloseTo(0, within(1e-9));
            assertThat(table.shifts()).noneMatch(Shift::displaced);
        }

        @Test
        void follow_by_half_turns_with_a_magnet_of_two_periods() {
            ShiftTable table = Tables.tableOf(goneOn(begun().periods(2).breakOff(60_000), 3, -7 * 180));

            assertThat(onlyBreak(table).turns()).hasValue(7);
            assertThat(value(table.shifts().get(2), Measure.START)).isCloseTo(1455, within(1e-9));
            assertThat(value(table.shifts().get(3), Measure.LANDING)).isCloseTo(0, within(1e-9));
        }

        @Test
        void leave_the_first_part_as_it_was_even_if_more_comes_behind() {
            TrackBuilder track = goneOn(begun().breakOff(60_000), 3, 5 * 360);
            for (int cycle = 2; cycle < 6; cycle++) {
                shift(shift(track, 1, 2, cycle, 5 * 360), 2, 1, cycle, 5 * 360);
            }

            ShiftTable table = Tables.tableOf(track);

            assertThat(onlyBreak(table).turns()).hasValue(-5);
            assertThat(value(table.shifts().get(0), Measure.LANDING)).isCloseTo(712, within(1e-9));
            assertThat(value(table.shifts().get(7), Measure.LANDING)).isCloseTo(0, within(1e-9));
        }

        @Test
        void agree_after_each_of_two_breaks() {
            TrackBuilder track = goneOn(begun().breakOff(60_000), 3, 3 * 360);
            goneOn(track.breakOff(5000), 1, -2 * 360);

            ShiftTable table = Tables.tableOf(track);

            assertThat(table.resumptions())
                    .extracting(Resumption::turns)
                    .containsExactly(OptionalInt.of(-3), OptionalInt.of(2));
            assertThat(table.shifts()).hasSize(6);
            assertThat(value(table.shifts().get(4), Measure.LANDING)).isCloseTo(712, within(1e-9));
            assertThat(value(table.shifts().get(5), Measure.LANDING)).isCloseTo(0, within(1e-9));
        }

        @Test
        void follow_by_the_profile_where_nothing_was_homed() {
            TrackBuilder track = begun().breakOff(60_000).restAt(1455 + 4 * 360, 600);
            for (int from : new int[] {3, 4}) {
                shift(track, from, from + 1, 1, 1440);
            }
            for (int from : new int[] {5, 4, 3, 2}) {
                shift(track, from, from - 1, 1, 1440);
            }

            ShiftTable table = tableOf(track, fiveSprockets(0));

            assertThat(onlyBreak(table).turns()).hasValue(-4);
            assertThat(onlyBreak(table).tie()).endsWith("by the profile");
            assertThat(value(table.shifts().get(6), Measure.LANDING)).isCloseTo(712, within(1e-6));
        }

        @Test
        void are_not_measured_against_the_others_where_nothing_tells_the_turns() {
            TrackBuilder track = begun().breakOff(60_000).restAt(1455 + 4 * 360, 600);
            shift(track, 3, 4, 1, 1440);

            ShiftTable table = Tables.tableOf(track);

            assertThat(onlyBreak(table).turns()).isEmpty();
            assertThat(onlyBreak(table).sentence()).contains("could not be told");
            assertThat(reason(table.shifts().get(2), Measure.LANDING)).isEqualTo("turn lost");
            assertThat(value(table.shifts().get(2), Measure.TRAVEL_TIME)).isPositive();
            assertThat(value(table.shifts().get(1), Measure.LANDING)).isCloseTo(1455, within(1e-9));
        }

        /** The rest after homing is taken to be one place; here it is not, and the profile shows it. */
        @Test
        void are_lost_where_the_landings_then_miss_the_profile() {
            TrackBuilder track = begun().breakOff(60_000);
            homing(track, 1, 0); // still, but at another place than before: two turns further
            shift(shift(track, 1, 2, 1, 360), 2, 3, 1, 360);

            ShiftTable table = tableOf(track, fiveSprockets(0));

            assertThat(table.turnLostFrom()).hasValue(3);
            assertThat(reason(table.shifts().get(3), Measure.LANDING)).isEqualTo("turn lost");
            assertThat(value(table.shifts().get(1), Measure.LANDING)).isCloseTo(1455, within(1e-6));
        }

        @Test
        void are_lost_up_to_the_next_break_only() {
            TrackBuilder track = begun().breakOff(60_000);
            homing(track, 1, 0);
            shift(shift(track, 1, 2, 1, 360), 2, 3, 1, 360);
            goneOn(track.breakOff(5000), 3, 0);

            ShiftTable table = tableOf(track, fiveSprockets(0));

            assertThat(table.notices()).anyMatch(n -> n.startsWith("turn lost: in shifts 3–4 "));
            assertThat(value(table.shifts().get(4), Measure.LANDING)).isCloseTo(712, within(1e-6));
        }
    }

    @Nested
    class Creep {
        @Test
        void does_not_exist_behind_a_break() {
            TrackBuilder track = begun().breakOff(60_000).restAt(1470, 600);
            shift(shift(track, 3, 4, 1, 0), 4, 3, 1, 0);

            ShiftTable table = tableOf(track, fiveSprockets(0));

            assertNotApplicable(table.shifts().get(2), Measure.CREEP);
            assertThat(value(table.shifts().get(3), Measure.CREEP)).isCloseTo(0, within(1e-9));
        }

        @Test
        void is_measured_from_the_way_back_on() {
            ShiftTable table = Tables.tableOf(goneOn(begun().breakOff(60_000), 3, 360));

            assertThat(value(table.shifts().get(2), Measure.CREEP)).isCloseTo(0, within(1e-9));
        }
    }

    @Nested
    class At_the_edges {
        @Test
        void a_break_during_homing_leaves_the_next_homing_to_count() {
            TrackBuilder track =
                    track().restAt(712, 600).home().rest(20).moveTo(300, 60).breakOff(60_000);
            goneOn(track, 2, 3 * 360 + 0);

            ShiftTable table = Tables.tableOf(track);

            assertThat(table.shifts()).hasSize(2);
            assertThat(onlyBreak(table).brokenOff()).isEmpty();
            assertThat(onlyBreak(table).tie()).isEqualTo("no shift came before it");
            assertThat(table.shifts()).allMatch(s -> s.outcome() == Outcome.LANDED && !s.displaced());
        }

        @Test
        void a_break_before_the_first_shift_changes_nothing_but_the_notice() {
            ShiftTable table = Tables.tableOf(goneOn(homed().breakOff(60_000), 1, 0));

            assertThat(table.shifts()).hasSize(2);
            assertThat(table.resumptions()).singleElement().matches(r -> r.shiftsBefore() == 0);
        }

        @Test
        void a_break_with_no_shift_behind_it_is_told_all_the_same() {
            ShiftTable table = Tables.tableOf(begun().breakOff(60_000).restAt(1455, 500));

            assertThat(table.shifts()).hasSize(2);
            assertThat(onlyBreak(table).tie()).isEqualTo("no shift came after it");
        }

        @Test
        void a_break_with_no_sample_behind_it_is_told_all_the_same() {
            ShiftTable table = Tables.tableOf(
                    begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000));

            assertThat(onlyBreak(table).brokenOff()).hasValue(3);
            assertThat(onlyBreak(table).tie()).isEqualTo("no shift came after it");
        }

        @Test
        void two_breaks_without_a_sample_between_them_are_both_told() {
            TrackBuilder track =
                    begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000);
            track.breaks().add(track.breaks().get(0));

            ShiftTable table = Tables.tableOf(goneOn(track, 2, 0));

            assertThat(table.resumptions())
                    .extracting(Resumption::brokenOff)
                    .containsExactly(OptionalInt.of(3), OptionalInt.empty());
            assertThat(table.notices())
                    .filteredOn(n -> n.contains("broken off at"))
                    .hasSize(2);
            assertThat(table.shifts()).hasSize(5);
        }

        @Test
        void a_motion_before_anything_was_asked_for_is_the_unit_finding_its_place() {
            TrackBuilder track =
                    begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000);
            track.restAt(900, 300).moveTo(712, 60);

            ShiftTable table = Tables.tableOf(goneOn(track, 2, 0));

            assertThat(table.shifts()).hasSize(5);
        }

        @Test
        void charge_and_times_stop_at_it() {
            TrackBuilder track = begun().current(2)
                    .request(3, 4, 1)
                    .rest(20)
                    .moveTo(2170, 100)
                    .rest(60);

            ShiftTable table = tableOf(goneOn(track.breakOff(60_000), 4, 0), fiveSprockets(0));

            assertThat(reason(table.shifts().get(2), Measure.CHARGE)).isEqualTo("the run was broken off in the shift");
        }

        @Test
        void an_unmarked_capture_is_cut_as_well() {
            ShiftTable table = Tables.tableOf(track().restAt(0, 400)
                    .moveTo(712, 100)
                    .rest(800)
                    .moveTo(1455, 100)
                    .rest(800)
                    .moveTo(2000, 80)
                    .breakOff(60_000)
                    .restAt(1455, 400)
                    .moveTo(712, 100)
                    .rest(900));

            assertThat(table.shifts()).extracting(s -> s.cycle() == 0).containsExactly(false, false, true, false);
        }
    }

    @Nested
    class A_part_of_a_few_samples {
        @Test
        void of_a_marked_run_has_no_shift() {
            TrackBuilder track = begun().breakOff(60_000).restAt(1455, 4).breakOff(60_000);

            ShiftTable table = Tables.tableOf(goneOn(track, 3, 0));

            assertThat(table.shifts()).hasSize(4);
            assertThat(table.resumptions()).hasSize(2);
        }

        @Test
        void of_an_unmarked_capture_has_no_shift() {
            ShiftTable table = Tables.tableOf(track().restAt(0, 4)
                    .breakOff(60_000)
                    .restAt(0, 500)
                    .moveTo(712, 100)
                    .rest(900)
                    .breakOff(60_000)
                    .restAt(712, 4));

            assertThat(table.shifts()).hasSize(1);
        }

        @Test
        void that_never_rests_up_to_the_break_has_one_that_did_not_settle() {
            ShiftTable table = Tables.tableOf(track().restAt(0, 500)
                    .moveTo(712, 100)
                    .hunting(60, 7000)
                    .breakOff(60_000)
                    .restAt(712, 500));

            assertThat(table.shifts()).extracting(Shift::outcome).containsExactly(Outcome.NOT_SETTLED);
        }
    }

    @Test
    void block_sizes_do_not_matter() {
        for (int size : new int[] {1, 7, 500}) {
            ShiftTable whole = Tables.tableOf(
                    goneOn(begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000), 2, 720));
            ShiftTable parts = Tables.tableOf(
                    goneOn(begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000), 2, 720)
                            .blocks(size));

            assertThat(parts).as("blocks of %d", size).isEqualTo(whole);
        }
    }

    @Test
    void a_request_says_its_way_also_where_it_was_broken_off() {
        ShiftTable table = Tables.tableOf(
                goneOn(begun().request(3, 2, 1).rest(20).moveTo(1000, 60).breakOff(60_000), 2, 0));

        assertThat(table.shifts().get(2).direction()).isEqualTo(Direction.OUTBOARD);
    }
}
