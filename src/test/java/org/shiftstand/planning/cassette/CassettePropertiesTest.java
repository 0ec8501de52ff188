package org.shiftstand.planning.cassette;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.LongConsumer;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.shiftstand.profile.Profile;

/** What holds for any drive. */
class CassettePropertiesTest {
    private static final ObservedSpread SEEN =
            new ObservedSpread(OptionalDouble.of(10.5), OptionalInt.of(200), 3, OptionalDouble.of(5), 1, "a test");

    private static void forAnyDrive(LongConsumer property) {
        LongStream.rangeClosed(1, 300).forEach(property);
    }

    private static CassettePlan plan(Profile profile, Spacing spacing, OvertravelRule rule, ObservedSpread spread) {
        return CassettePlanner.plan(
                profile,
                new CassetteWish(
                        IntStream.rangeClosed(2, 20)
                                .mapToObj(CassetteWish.Wanted::keepingEnds)
                                .toList(),
                        OptionalDouble.empty(),
                        spacing,
                        rule,
                        spread,
                        RoomRule.USUAL));
    }

    private static CassettePlan plan(Profile profile) {
        return plan(profile, Spacing.MEASURED, OvertravelRule.KEPT, SEEN);
    }

    @Test
    void positions_ascend_and_keep_both_ends() {
        forAnyDrive(seed -> {
            Profile profile = Profiles.random(seed);

            assertThat(plan(profile).planned()).as("seed %d", seed).allSatisfy(cassette -> {
                List<Double> at = cassette.positionsDeg();
                assertThat(at).hasSize(cassette.sprockets()).isSorted().doesNotHaveDuplicates();
                assertThat(at.get(0)).isEqualTo(profile.positionDeg(1));
                assertThat(at.get(at.size() - 1)).isEqualTo(profile.positionDeg(profile.sprockets()));
            });
        });
    }

    @Test
    void the_present_count_gives_back_the_present_positions_and_table() {
        forAnyDrive(seed -> {
            Profile profile = Profiles.random(seed);
            CassettePlan plan = plan(profile);

            PlannedCassette same = plan.planned().get(profile.sprockets() - 2);

            assertThat(same).as("seed %d", seed).isEqualTo(plan.present());
            assertThat(same.positionsDeg()).isEqualTo(profile.positionsDeg());
            assertThat(same.overtravelInboardDeg()).isEqualTo(profile.overtravelInboardDeg());
            assertThat(same.overtravelOutboardDeg()).isEqualTo(profile.overtravelOutboardDeg());
        });
    }

    @Test
    void no_overtravel_is_invented() {
        forAnyDrive(seed -> {
            Profile profile = Profiles.random(seed);
            double most = Collections.max(profile.overtravelInboardDeg());
            double least = profile.overtravelInboardDeg().stream()
                    .filter(deg -> deg > 0)
                    .min(Double::compare)
                    .orElse(0.0);

            assertThat(plan(profile).planned())
                    .as("seed %d", seed)
                    .allSatisfy(cassette -> assertThat(cassette.overtravelInboardDeg())
                            .allMatch(deg -> deg == 0 || deg >= least - 1e-9 && deg <= most + 1e-9));
        });
    }

    /** Of equal angles and one overtravel for all shifts: an uneven drive may have its narrowest gap at the present count. */
    @Test
    void more_sprockets_never_leave_more_room() {
        forAnyDrive(seed -> {
            Profile drawn = Profiles.random(seed);
            List<Double> table = Collections.nCopies(drawn.sprockets() - 1, 40.0 + seed);
            Profile profile = Profiles.of(
                    drawn.positionsDeg(),
                    drawn.screwLeadMm(),
                    drawn.outboardLimitDeg(),
                    drawn.inboardLimitDeg(),
                    table,
                    table);
            List<PlannedCassette> planned =
                    plan(profile, Spacing.EVEN, OvertravelRule.KEPT, SEEN).planned();

            for (int i = 1; i < planned.size(); i++) {
                assertThat(margin(planned.get(i)))
                        .as("seed %d, %d sprockets", seed, planned.get(i).sprockets())
                        .isLessThanOrEqualTo(margin(planned.get(i - 1)) + 1e-9);
            }
        });
    }

    @Test
    void a_wider_scatter_never_leaves_more_room() {
        forAnyDrive(seed -> {
            ObservedSpread wider = new ObservedSpread(
                    OptionalDouble.of(14), OptionalInt.of(200), 3, OptionalDouble.of(5), 1, "a test");
            Profile profile = Profiles.random(seed);
            List<PlannedCassette> narrow = plan(profile).planned();
            List<PlannedCassette> wide =
                    plan(profile, Spacing.MEASURED, OvertravelRule.KEPT, wider).planned();

            for (int i = 0; i < narrow.size(); i++) {
                assertThat(margin(wide.get(i))).as("seed %d", seed).isLessThan(margin(narrow.get(i)));
            }
        });
    }

    @Test
    void what_is_not_known_never_makes_room() {
        forAnyDrive(seed -> assertThat(
                        plan(Profiles.random(seed), Spacing.MEASURED, OvertravelRule.KEPT, ObservedSpread.unknown())
                                .planned())
                .as("seed %d", seed)
                .noneMatch(cassette -> cassette.room() == Room.ROOM));
    }

    /** The mean pitch in millimetres, laid from the first sprocket, ends where keeping the ends does. */
    @Test
    void a_pitch_that_fills_the_travel_keeps_the_ends() {
        forAnyDrive(seed -> {
            Profile profile = Profiles.random(seed);
            for (PlannedCassette ends : plan(profile).planned()) {
                CassetteWish wish = new CassetteWish(
                        List.of(new CassetteWish.Wanted(ends.sprockets(), ends.pitchMm())),
                        OptionalDouble.empty(),
                        Spacing.MEASURED,
                        OvertravelRule.KEPT,
                        SEEN,
                        RoomRule.USUAL);
                PlannedCassette pitched =
                        CassettePlanner.plan(profile, wish).planned().get(0);

                for (int k = 0; k < ends.sprockets(); k++) {
                    assertThat(pitched.positionsDeg().get(k))
                            .as("seed %d, sprocket %d of %d", seed, k + 1, ends.sprockets())
                            .isCloseTo(ends.positionsDeg().get(k), within(1e-6));
                }
            }
        });
    }

    private static double margin(PlannedCassette cassette) {
        return cassette.tightest().orElseThrow().marginDeg().orElseThrow();
    }
}
