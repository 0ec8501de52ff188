package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.shift.Tables.profile;
import static org.shiftstand.shift.Tables.reason;
import static org.shiftstand.shift.Tables.tableOf;
import static org.shiftstand.shift.Tables.value;
import static org.shiftstand.shift.TrackBuilder.track;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/** Which sprocket is which, which way is inboard, where the origin is. Positions are invented. */
class NumberingTest {
    private static final Double[] UNEVEN = {0.0, 650.0, 1450.0, 2150.0, 3050.0};

    /** One shift after the other, each resting 400 ms. */
    private static TrackBuilder visiting(double... deg) {
        TrackBuilder track = track().restAt(deg[0], 300);
        for (int i = 1; i < deg.length; i++) {
            track.moveTo(deg[i], 120).rest(400);
        }
        return track;
    }

    private static ShiftTable tableWith(TrackBuilder track, Profile profile) {
        return ShiftFinder.find(track, Optional.of(profile), ShiftOptions.defaults());
    }

    private static List<String> pairs(ShiftTable table) {
        return table.shifts().stream().map(s -> s.from() + ">" + s.to()).toList();
    }

    @Nested
    class Without_a_profile {
        @Test
        void the_outermost_landing_is_sprocket_1_and_the_sense_is_assumed() {
            ShiftTable table = tableOf(visiting(40, 690, 1490, 690, 40));

            assertThat(pairs(table)).containsExactly("1>2", "2>3", "3>2", "2>1");
            assertThat(table.sense()).isEqualTo("forward");
            assertThat(table.senseFrom()).isEqualTo("assumed");
            assertThat(table.sprockets()).isEqualTo(3);
            assertThat(table.alignmentDeg()).isEmpty();
        }

        @ParameterizedTest
        @ValueSource(ints = {7, 9, 11, 13, 14})
        void any_number_of_sprockets_is_found_at_any_pitch(int n) {
            double pitch = 4200.0 / n;
            double[] deg = new double[2 * n - 1];
            for (int i = 0; i < deg.length; i++) {
                int sprocket = i < n ? i : 2 * n - 2 - i;
                deg[i] = sprocket * pitch + (i % 3) * 8;
            }

            ShiftTable table = tableOf(visiting(deg));

            assertThat(table.sprockets()).isEqualTo(n);
            assertThat(table.shifts().get(n - 2).to()).isEqualTo(n);
            assertThat(table.shifts().get(2 * n - 3).to()).isEqualTo(1);
        }

        @Test
        void the_first_sprocket_can_be_said() {
            ShiftTable table = ShiftFinder.find(
                    visiting(40, 690, 1490, 690, 40),
                    Optional.empty(),
                    ShiftOptions.defaults().withFirstSprocket(4));

            assertThat(pairs(table)).containsExactly("4>5", "5>6", "6>5", "5>4");
        }

        @Test
        void marks_tell_the_sense() {
            TrackBuilder track = track().restAt(0, 300);
            track.request(Direction.INBOARD).rest(25).moveTo(-700, 120).rest(400);
            track.request(Direction.INBOARD).rest(25).moveTo(-1500, 120).rest(400);
            track.request(Direction.OUTBOARD).rest(25).moveTo(-700, 120).rest(400);

            ShiftTable table = tableOf(track);

            assertThat(table.sense()).isEqualTo("reversed");
            assertThat(table.senseFrom()).isEqualTo("requests");
            assertThat(pairs(table)).containsExactly("1>2", "2>3", "3>2");
            assertThat(value(table.shifts().get(1), Measure.LANDING)).isCloseTo(1500, within(1e-6));
        }

        @Test
        void landing_error_is_against_the_mean_of_the_two_directions_means() {
            // sprocket 2 is reached at 700 inboard and 712 outboard: its centre is 706
            ShiftTable table = tableOf(visiting(0, 700, 1500, 712, 0, 700, 1500, 712, 0));

            assertThat(value(table.shifts().get(0), Measure.LANDING_ERROR)).isCloseTo(-6, within(1e-6));
            assertThat(value(table.shifts().get(2), Measure.LANDING_ERROR)).isCloseTo(6, within(1e-6));
        }

        @Test
        void a_single_stop_between_sprockets_is_no_sprocket() {
            double[] deg = new double[41];
            for (int i = 0; i < deg.length; i++) {
                int k = i % 8;
                deg[i] = (k < 4 ? k : 8 - k) * 700;
            }
            deg[21] = 3350; // 5 is even in the sweep: 3500 was to be reached
            deg[21] = deg[20] > deg[22] ? deg[20] - 330 : deg[20] + 330;

            ShiftTable table = tableOf(visiting(deg));

            assertThat(table.sprockets()).isEqualTo(5);
        }

        @Test
        void clearance_is_not_measured() {
            ShiftTable table = tableOf(visiting(0, 700, 0));

            assertThat(reason(table.shifts().get(0), Measure.CLEARANCE)).contains("no mechanical limit");
        }
    }

    @Nested
    class Cycles {
        @Test
        void open_at_each_departure_from_the_outermost_sprocket() {
            ShiftTable table = tableOf(visiting(0, 700, 1500, 700, 0, 700, 1500, 700, 0));

            assertThat(table.shifts()).extracting(Shift::cycle).containsExactly(1, 1, 1, 1, 2, 2, 2, 2);
        }

        @Test
        void begin_with_1_wherever_the_capture_begins() {
            ShiftTable table = tableOf(visiting(1500, 700, 0, 700, 1500));

            assertThat(table.shifts()).extracting(Shift::cycle).containsExactly(1, 1, 2, 2);
        }
    }

    @Nested
    class With_a_profile {
        @Test
        void landings_are_aligned_by_the_median_over_sprockets() {
            // all 30 deg high, sprocket 3 another 9: the median does not follow it
            ShiftTable table = tableWith(visiting(30, 680, 1489, 2180, 3080, 2180, 1489, 680, 30), profile(UNEVEN));

            assertThat(table.alignmentDeg().orElseThrow()).isCloseTo(-30, within(1e-6));
            assertThat(table.originMeasured()).isFalse();
            assertThat(table.numbering()).contains("aligned to the profile");
            assertThat(value(table.shifts().get(0), Measure.LANDING_ERROR)).isCloseTo(0, within(1e-6));
            assertThat(value(table.shifts().get(1), Measure.LANDING_ERROR)).isCloseTo(9, within(1e-6));
        }

        @Test
        void the_sense_of_rotation_follows_from_it() {
            ShiftTable table =
                    tableWith(visiting(0, -650, -1450, -2150, -3050, -2150, -1450, -650, 0), profile(UNEVEN));

            assertThat(table.sense()).isEqualTo("reversed");
            assertThat(table.senseFrom()).isEqualTo("profile");
            assertThat(pairs(table)).startsWith("1>2", "2>3");
            assertThat(table.shifts().get(0).direction()).isEqualTo(Direction.INBOARD);
        }

        @Test
        void some_of_the_sprockets_are_enough_where_only_one_assignment_fits() {
            ShiftTable table = tableWith(visiting(0, 800, 1500, 800, 0), profile(UNEVEN));

            assertThat(pairs(table)).containsExactly("2>3", "3>4", "4>3", "3>2");
            assertThat(table.sprockets()).isEqualTo(5);
        }

        @Test
        void equal_pitches_do_not_decide_and_this_is_said() {
            ShiftTable table = tableWith(visiting(0, 700, 1400, 700, 0), profile(0.0, 700.0, 1400.0, 2100.0, 2800.0));

            assertThat(table.notices())
                    .anySatisfy(n -> assertThat(n)
                            .contains("not decided")
                            .contains("--sense")
                            .contains("--first-sprocket"));
            assertThat(table.alignmentDeg()).isEmpty();
            assertThat(reason(table.shifts().get(0), Measure.CLEARANCE)).contains("aligned");
        }

        @Test
        void what_the_user_says_decides() {
            ShiftTable table = ShiftFinder.find(
                    visiting(0, 700, 1400, 700, 0),
                    Optional.of(profile(0.0, 700.0, 1400.0, 2100.0, 2800.0)),
                    ShiftOptions.defaults().withSense("forward").withFirstSprocket(2));

            assertThat(pairs(table)).containsExactly("2>3", "3>4", "4>3", "3>2");
            assertThat(table.alignmentDeg().orElseThrow()).isCloseTo(700, within(1e-6));
            assertThat(table.senseFrom()).isEqualTo("option");
        }

        @Test
        void a_script_numbers_without_doubt() {
            TrackBuilder track = track().restAt(20, 300);
            track.request(3, 4, 1).rest(25).moveTo(720, 120).rest(400);
            track.request(4, 3, 1).rest(25).moveTo(20, 120).rest(400);

            ShiftTable table = tableWith(track, profile(0.0, 700.0, 1400.0, 2100.0, 2800.0));

            assertThat(pairs(table)).containsExactly("3>4", "4>3");
            assertThat(table.alignmentDeg().orElseThrow()).isCloseTo(1380, within(1e-6));
        }

        @Test
        void a_first_scripted_shift_that_jams_does_not_define_its_own_nominal() {
            TrackBuilder track = track().restAt(30, 300);
            track.request(1, 2, 1).rest(25).moveTo(310, 120).rest(400);

            ShiftTable table = tableWith(track, profile(UNEVEN));

            Shift only = table.shifts().get(0);
            assertThat(only.outcome()).isEqualTo(Outcome.SHORT);
            assertThat(only.displaced()).isFalse();
            assertThat(table.alignmentDeg().orElseThrow()).isCloseTo(-30, within(1e-6));
            assertThat(value(only, Measure.LANDING_ERROR)).isCloseTo(-370, within(1e-6)); // 280 of 650
            assertThat(table.numbering())
                    .contains("rest before the first shift")
                    .contains("not measured");
            assertThat(table.originMeasured()).isFalse();
        }

        @Test
        void with_landings_at_two_sprockets_the_one_that_misses_does_not_count() {
            TrackBuilder track = track().restAt(600, 300).home().moveTo(30, 120).rest(400);
            track.request(1, 2, 1).rest(25).moveTo(684, 120).rest(400);
            track.request(2, 3, 1).rest(25).moveTo(1000, 120).rest(400);

            ShiftTable table = tableWith(track, profile(UNEVEN));

            assertThat(table.alignmentDeg().orElseThrow()).isCloseTo(-32, within(1e-6)); // median of 30 and 34
            assertThat(table.shifts()).extracting(Shift::outcome).containsExactly(Outcome.LANDED, Outcome.SHORT);
        }

        @Test
        void clearance_is_the_distance_of_the_extreme_from_the_limit_of_that_side() {
            TrackBuilder track = visiting(0, 650, 1450, 2150, 3050, 2150, 1450, 650);
            track.moveTo(-200, 120).rest(400).moveTo(0, 60).rest(400);

            ShiftTable table = tableWith(track, profile(UNEVEN));

            assertThat(value(table.shifts().get(3), Measure.CLEARANCE)).isCloseTo(400, within(1e-6));
            assertThat(value(table.shifts().get(7), Measure.EXTREME)).isCloseTo(-200, within(1e-6));
            assertThat(value(table.shifts().get(7), Measure.CLEARANCE)).isCloseTo(300, within(1e-6));
        }

        @Test
        void limits_of_the_unit_go_before_those_of_the_profile() {
            ShiftTable table = ShiftFinder.find(
                    visiting(0, 650, 1450, 2150, 3050, 2150, 1450, 650, 0),
                    Optional.of(profile(UNEVEN)),
                    ShiftOptions.defaults().withLimits(OptionalDouble.of(-90), OptionalDouble.empty()));

            assertThat(value(table.shifts().get(7), Measure.CLEARANCE)).isCloseTo(90, within(1e-6));
            assertThat(value(table.shifts().get(3), Measure.CLEARANCE)).isCloseTo(400, within(1e-6));
        }
    }

    @Nested
    class Returns {
        @Test
        void of_less_than_six_tenths_belong_to_the_shift() {
            ShiftTable table = tableOf(visiting(0, 1000, 600, 1600, 1200, 600, 0));

            assertThat(table.shifts().get(0).to()).isEqualTo(2);
            assertThat(value(table.shifts().get(0), Measure.OVERTRAVEL)).isCloseTo(400, within(1e-6));
        }

        @Test
        void near_the_limit_are_flagged_without_a_profile() {
            ShiftTable table = tableOf(visiting(0, 1000, 450, 1150));

            assertThat(table.notices()).anyMatch(n -> n.contains("doubtful"));
        }

        @Test
        void are_told_from_shifts_by_the_landings_a_profile_has() {
            // 1→4 and back to 3: 900 of 2150 would count as a return, but both rests are sprockets
            double[] deg = {0, 650, 1450, 2150, 3050, 2150, 1450, 650, 0, 2150, 1000};
            deg[10] = 650; // 1500 of 2150: more than 0.6

            ShiftTable table = tableWith(visiting(deg), profile(UNEVEN));

            assertThat(pairs(table)).endsWith("1>4", "4>2");
        }

        @Test
        void longer_than_six_tenths_belong_to_the_shift_where_only_that_fits() {
            // pitch 200 with an overtravel of 340: out 540, back 340, a ratio of 0.63
            double[] deg = {0, 220, 400, 630, 860, 630, 400, 220, 0, 560, 220};
            Profile small = profile(0.0, 220.0, 400.0, 630.0, 860.0);

            ShiftTable table = tableWith(visiting(deg), small);

            assertThat(pairs(table)).endsWith("2>1", "1>2");
            assertThat(value(table.shifts().get(8), Measure.OVERTRAVEL)).isCloseTo(340, within(1e-6));
        }
    }
}
