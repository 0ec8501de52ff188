package org.shiftstand.planning.cassette;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;

/** Every figure here was worked out by hand from the three sprockets at 0, 600 and 1300 deg. */
class CassettePlannerTest {
    private static final OptionalDouble NOT_KNOWN = OptionalDouble.empty();
    /** Normal, two-sided 99.9 %: z of 99.95 % (any table of the normal distribution). */
    private static final double Z = 3.2905;

    private static final ObservedSpread SEEN =
            new ObservedSpread(OptionalDouble.of(10), OptionalInt.empty(), 2, OptionalDouble.of(4), 1, "a test");

    private static CassetteWish wish(CassetteWish.Wanted wanted) {
        return new CassetteWish(
                List.of(wanted), NOT_KNOWN, Spacing.MEASURED, OvertravelRule.KEPT, SEEN, RoomRule.USUAL);
    }

    private static PlannedCassette planned(CassetteWish wish) {
        return CassettePlanner.plan(Profiles.three(), wish).planned().get(0);
    }

    private static PlannedCassette keepingEnds(int sprockets) {
        return planned(wish(CassetteWish.Wanted.keepingEnds(sprockets)));
    }

    private static RoomCheck check(PlannedCassette cassette, int from, int to, boolean back) {
        return cassette.checks().stream()
                .filter(c -> c.from() == from && c.to() == to && back == (c.side() == RoomCheck.Side.BACK))
                .findFirst()
                .orElseThrow();
    }

    @Nested
    class Positions {
        @Test
        void kept_ends_share_the_present_travel() {
            assertThat(keepingEnds(5).positionsDeg()).containsExactly(0.0, 300.0, 600.0, 950.0, 1300.0);
            assertThat(keepingEnds(5).beyondDeg()).isZero();
        }

        @Test
        void fewer_sprockets_are_a_plan_as_well() {
            assertThat(keepingEnds(2).positionsDeg()).containsExactly(0.0, 1300.0);
        }

        /** 3.25 mm by the screw are 325 deg on average: half a present step. */
        @Test
        void a_pitch_is_laid_from_the_first_sprocket() {
            PlannedCassette four = planned(wish(new CassetteWish.Wanted(4, OptionalDouble.of(3.25))));

            assertThat(four.positionsDeg()).containsExactly(0.0, 300.0, 600.0, 950.0);
            assertThat(four.pitchMm().orElseThrow()).isCloseTo(950.0 / 3 * 0.01, within(1e-12));
        }

        @Test
        void a_pitch_may_lead_past_the_present_travel_and_says_how_far() {
            PlannedCassette four = planned(wish(new CassetteWish.Wanted(4, OptionalDouble.of(6.5))));

            assertThat(four.positionsDeg()).containsExactly(0.0, 600.0, 1300.0, 1950.0);
            assertThat(four.beyondDeg()).isEqualTo(650);
            assertThat(four.room()).isEqualTo(Room.NO_ROOM);
            assertThat(four.reachingLimits())
                    .singleElement()
                    .satisfies(check -> assertThat(check.to()).isEqualTo(4));
        }

        /** Present sprockets 5 mm apart: 2.5 mm are half a step, whatever the cage travels. */
        @Test
        void a_pitch_is_held_against_the_present_one_where_that_is_known() {
            CassetteWish wish = new CassetteWish(
                    List.of(new CassetteWish.Wanted(4, OptionalDouble.of(2.5))),
                    OptionalDouble.of(5),
                    Spacing.MEASURED,
                    OvertravelRule.KEPT,
                    SEEN,
                    RoomRule.USUAL);

            assertThat(planned(wish).positionsDeg()).containsExactly(0.0, 300.0, 600.0, 950.0);
        }

        @Test
        void a_pitch_without_a_scale_is_refused() {
            Profile noLead =
                    Profiles.of(List.of(0.0, 600.0), NOT_KNOWN, NOT_KNOWN, NOT_KNOWN, List.of(0.0), List.of(0.0));

            assertThatThrownBy(
                            () -> CassettePlanner.plan(noLead, wish(new CassetteWish.Wanted(3, OptionalDouble.of(3)))))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("screwLeadMm=");
        }
    }

    @Nested
    class Overtravel {
        /** Inboard 100 to sprocket 2, none to 3: sprocket 4 of 5 lies half way, and half way counts as programmed. */
        @Test
        void is_carried_over_by_the_sprocket_shifted_to_and_none_stays_none() {
            assertThat(keepingEnds(5).overtravelInboardDeg()).containsExactly(100.0, 100.0, 100.0, 0.0);
        }

        /** Outboard 50 to sprocket 2, 80 to 1: half way between them 65; beyond the row for 2 its value holds. */
        @Test
        void is_interpolated_between_programmed_rows() {
            assertThat(keepingEnds(5).overtravelOutboardDeg()).containsExactly(50.0, 50.0, 65.0, 80.0);
        }

        /** Sprocket 3 of 5 lies on the present 2, of which the table knows; sprocket 4 between 2 and a gap. */
        @Test
        void beside_a_gap_is_a_gap() {
            Profile gap = Profiles.of(
                    List.of(0.0, 600.0, 1300.0),
                    NOT_KNOWN,
                    OptionalDouble.of(-200),
                    OptionalDouble.of(1400),
                    List.of(100.0, Double.NaN),
                    List.of(50.0, 80.0));

            PlannedCassette five = CassettePlanner.plan(gap, wish(CassetteWish.Wanted.keepingEnds(5)))
                    .planned()
                    .get(0);

            assertThat(five.overtravelInboardDeg()).containsExactly(100.0, 100.0, Double.NaN, Double.NaN);
            assertThat(five.room()).isEqualTo(Room.NOT_DECIDED);
        }

        @Test
        void scales_with_the_mean_pitch_where_that_is_wanted() {
            CassetteWish wish = wish(CassetteWish.Wanted.keepingEnds(5));
            CassetteWish scaled = new CassetteWish(
                    wish.cassettes(), NOT_KNOWN, Spacing.MEASURED, OvertravelRule.SCALED, SEEN, RoomRule.USUAL);

            assertThat(planned(scaled).overtravelInboardDeg()).containsExactly(50.0, 50.0, 50.0, 0.0);
        }
    }

    @Nested
    class Room_of_a_shift {
        private final PlannedCassette present = CassettePlanner.plan(
                        Profiles.three(), wish(CassetteWish.Wanted.keepingEnds(3)))
                .present();

        /** Half of 700; 100 + 3.2905 × 10 + 4 + 2 + 1. */
        @Test
        void past_a_sprocket_is_half_way_to_the_next_one() {
            RoomCheck past = check(present, 1, 2, false);

            assertThat(past.availableDeg()).hasValue(350);
            assertThat(past.neededDeg()).isCloseTo(107 + 10 * Z, within(1e-3));
            assertThat(past.marginDeg().orElseThrow()).isCloseTo(243 - 10 * Z, within(1e-3));
            assertThat(past.room()).isEqualTo(Room.ROOM);
        }

        @Test
        void short_of_a_sprocket_is_half_way_back_and_overtravel_does_not_count() {
            RoomCheck back = check(present, 1, 2, true);

            assertThat(back.availableDeg()).hasValue(300);
            assertThat(back.neededDeg()).isCloseTo(7 + 10 * Z, within(1e-3));
        }

        @Test
        void past_an_end_is_what_lies_before_the_mechanical_limit() {
            RoomCheck inboard = present.atLimit(Direction.INBOARD);
            RoomCheck outboard = present.atLimit(Direction.OUTBOARD);

            assertThat(inboard.availableDeg()).hasValue(100);
            assertThat(inboard.neededDeg()).isCloseTo(7 + 10 * Z, within(1e-3));
            assertThat(outboard.availableDeg()).hasValue(200);
            assertThat(outboard.neededDeg()).isCloseTo(87 + 10 * Z, within(1e-3));
        }

        @Test
        void remedies_leave_nothing_over() {
            RoomCheck past = check(present, 1, 2, false);

            assertThat(past.overtravelAtMostDeg().orElseThrow()).isCloseTo(343 - 10 * Z, within(1e-3));
            assertThat(past.spreadAtMostDeg().orElseThrow()).isCloseTo(243 / Z, within(1e-3));
            assertThat(past.gapAtLeastDeg().orElseThrow()).isCloseTo(2 * (107 + 10 * Z), within(1e-3));
        }
    }

    @Nested
    class Verdict {
        private PlannedCassette with(Profile profile, ObservedSpread spread, int sprockets) {
            CassetteWish wish = new CassetteWish(
                    List.of(CassetteWish.Wanted.keepingEnds(sprockets)),
                    NOT_KNOWN,
                    Spacing.MEASURED,
                    OvertravelRule.KEPT,
                    spread,
                    RoomRule.USUAL);
            return CassettePlanner.plan(profile, wish).planned().get(0);
        }

        private Profile withoutLimits() {
            Profile three = Profiles.three();
            return Profiles.of(
                    three.positionsDeg(),
                    three.screwLeadMm(),
                    NOT_KNOWN,
                    NOT_KNOWN,
                    three.overtravelInboardDeg(),
                    three.overtravelOutboardDeg());
        }

        @Test
        void is_room_where_everything_is_known_and_fits() {
            assertThat(with(Profiles.three(), SEEN, 5).room()).isEqualTo(Room.ROOM);
        }

        /** 10 sprockets: 133 deg apart at the outboard end, half of it 67, and overtravel of 100. */
        @Test
        void is_no_room_where_the_overtravel_alone_is_too_much_though_nothing_else_is_known() {
            assertThat(with(withoutLimits(), ObservedSpread.unknown(), 10).room())
                    .isEqualTo(Room.NO_ROOM);
        }

        @Test
        void is_not_decided_without_the_spread() {
            assertThat(with(Profiles.three(), ObservedSpread.unknown(), 5).room())
                    .isEqualTo(Room.NOT_DECIDED);
        }

        @Test
        void is_not_decided_without_the_ringing() {
            ObservedSpread noRinging =
                    new ObservedSpread(OptionalDouble.of(10), OptionalInt.empty(), 0, NOT_KNOWN, 1, "a test");

            assertThat(with(Profiles.three(), noRinging, 5).room()).isEqualTo(Room.NOT_DECIDED);
        }

        @Test
        void is_not_decided_without_the_mechanical_limits() {
            assertThat(with(withoutLimits(), SEEN, 5).room()).isEqualTo(Room.NOT_DECIDED);
        }

        @Test
        void is_no_room_where_landings_scatter_past_the_limit() {
            ObservedSpread wide = new ObservedSpread(
                    OptionalDouble.of(40), OptionalInt.empty(), 0, OptionalDouble.of(0), 0, "a test");

            PlannedCassette three = with(Profiles.three(), wide, 3);

            assertThat(three.room()).isEqualTo(Room.NO_ROOM); // 3.29 × 40 = 132, and 100 to the inboard limit
            assertThat(three.tightest().orElseThrow().side()).isEqualTo(RoomCheck.Side.LIMIT);
        }
    }

    @Nested
    class Spread_of_a_sample {
        private ObservedSpread of(int shifts) {
            return new ObservedSpread(
                    OptionalDouble.of(10), OptionalInt.of(shifts), 0, OptionalDouble.of(0), 0, "a test");
        }

        /** Berthouex and Brown, Statistics for Environmental Engineers, table 21.1: n = 5, 95 %, 95 %. */
        @Test
        void is_widened_by_the_factor_of_a_tolerance_interval() {
            assertThat(of(5).factor(new RoomRule(0.5, 0, 0.95, 0.95))).isCloseTo(5.08, within(0.005));
        }

        @Test
        void is_widened_less_the_more_shifts_it_rests_on() {
            assertThat(of(20).factor(RoomRule.USUAL))
                    .isGreaterThan(of(400).factor(RoomRule.USUAL))
                    .isGreaterThan(SEEN.factor(RoomRule.USUAL));
            assertThat(of(400).factor(RoomRule.USUAL)).isGreaterThan(SEEN.factor(RoomRule.USUAL));
        }
    }
}
