package org.shiftstand.learn.compare;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.function.Function;
import java.util.function.Predicate;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.spec.Clause;

/** How often a comparison says what is not so, counted in seeded repetitions through the very code that compares. */
class ErrorRatesTest {
    private static final int TRIALS = 400;
    /** Of a share of 5 % in so many trials: 4 standard errors. */
    private static final double FOUR_ERRORS = 4 * Math.sqrt(0.05 * 0.95 / TRIALS);

    private static double share(
            long seed, List<String> margins, Function<Random, Sides> made, Predicate<Comparison> counts) {
        Random random = new Random(seed);
        List<Clause> clauses = margins.stream().map(Margins::read).toList();
        int counted = 0;
        for (int i = 0; i < TRIALS; i++) {
            Comparison comparison = Comparing.compare(made.apply(random), Optional.empty(), clauses, List.of());
            counted += counts.test(comparison) ? 1 : 0;
        }
        return (double) counted / TRIALS;
    }

    private static Sides one(MadeRun base, MadeRun candidate) {
        return new Sides(List.of(base.made()), List.of(candidate.made()));
    }

    private static MadeRun run(Random random) {
        return MadeRun.of("made.run", random);
    }

    /** Of six groups. */
    private static MadeRun some(Random random) {
        return run(random).sprockets(4);
    }

    /** Of two groups only, where a test is about one. */
    private static MadeRun few(Random random) {
        return run(random).sprockets(2);
    }

    private static boolean firstGroupEquivalent(Comparison comparison) {
        return comparison.judged().get(0).change() == Change.EQUIVALENT;
    }

    @Nested
    class A_change_exactly_at_the_margin_is_called_equivalent_in_at_most_five_per_cent {
        private double wrong(long seed, Function<Random, Sides> made) {
            return share(seed, List.of("landing=6deg"), made, ErrorRatesTest::firstGroupEquivalent);
        }

        @Test
        void of_one_group_with_enough_shifts_to_come_near() {
            double wrong = wrong(
                    1,
                    random -> one(
                            few(random).cycles(60).landingSd(6),
                            few(random).cycles(60).landingSd(6).landingsMovedBy(6)));

            // that it also comes near shows that the test is no refusal of everything
            assertThat(wrong).as("seed 1").isBetween(0.05 - FOUR_ERRORS, 0.05 + FOUR_ERRORS);
        }

        @Test
        void of_landings_that_follow_each_other() {
            double wrong = wrong(
                    2,
                    random -> one(
                            few(random).cycles(60).landingSd(6).following(0.6),
                            few(random).cycles(60).landingSd(6).following(0.6).landingsMovedBy(6)));

            assertThat(wrong).as("seed 2").isLessThan(0.05 + FOUR_ERRORS);
        }

        @Test
        void of_runs_that_differ_by_their_mounting() {
            double wrong = wrong(
                    3,
                    random -> new Sides(
                            List.of(
                                    mounted(random).made(),
                                    mounted(random).made(),
                                    mounted(random).made()),
                            List.of(
                                    mounted(random).landingsMovedBy(6).made(),
                                    mounted(random).landingsMovedBy(6).made(),
                                    mounted(random).landingsMovedBy(6).made())));

            assertThat(wrong).as("seed 3").isLessThan(0.05 + FOUR_ERRORS);
        }

        private MadeRun mounted(Random random) {
            return few(random).landingSd(6).offset(2 * random.nextGaussian());
        }

        /** All eighteen groups lie at the margin: the worst case of the intersection–union test is far rarer still. */
        @Test
        void of_everything_together() {
            double wrong = share(
                    4,
                    List.of("landing=6deg"),
                    random -> one(
                            run(random).cycles(60).landingSd(6),
                            run(random).cycles(60).landingSd(6).landingsMovedBy(6)),
                    comparison -> comparison.change() == Change.EQUIVALENT);

            assertThat(wrong).as("seed 4").isLessThan(0.01);
        }

        /** One group at the margin and all others the same: the case in which the whole is wrong most often. */
        @Test
        void of_everything_where_a_single_group_moved() {
            double wrong = share(
                    5,
                    List.of("overtravel=2deg"),
                    random -> one(run(random).cycles(60), run(random).cycles(60).overtravelOfOneMovedBy(2)),
                    comparison -> comparison.change() == Change.EQUIVALENT);

            assertThat(wrong).as("seed 5").isBetween(0.05 - FOUR_ERRORS, 0.05 + FOUR_ERRORS);
        }

        @Test
        void of_spreads() {
            double wrong = share(
                    6,
                    List.of("landing:spread=1.5"),
                    random -> one(few(random).cycles(80), few(random).cycles(80).landingSd(15)),
                    ErrorRatesTest::firstGroupEquivalent);

            assertThat(wrong).as("seed 6").isLessThan(0.05 + FOUR_ERRORS);
        }
    }

    @Nested
    class Of_two_firmwares_that_are_the_same_anything_is_called_different_in_at_most_five_per_cent {
        private static final List<String> MARGINS =
                List.of("landing=0.5deg", "landing:spread=1.05", "overtravel=0.5deg");

        private double wrong(long seed, Function<Random, Sides> made) {
            return share(seed, MARGINS, made, comparison -> comparison.change() == Change.DIFFERENT);
        }

        @Test
        void over_eighteen_groups_together() {
            double wrong = wrong(11, random -> one(some(random), some(random)));

            assertThat(wrong).as("seed 11").isLessThan(0.05 + FOUR_ERRORS);
        }

        @Test
        void where_landings_follow_each_other() {
            double wrong = wrong(
                    12,
                    random -> one(
                            some(random).cycles(48).following(0.5),
                            some(random).cycles(48).following(0.5)));

            assertThat(wrong).as("seed 12").isLessThan(0.05 + FOUR_ERRORS);
        }

        @Test
        void where_runs_differ_by_their_mounting() {
            double wrong = wrong(
                    13,
                    random -> new Sides(
                            List.of(mounted(random), mounted(random)), List.of(mounted(random), mounted(random))));

            assertThat(wrong).as("seed 13").isLessThan(0.05 + FOUR_ERRORS);
        }

        private ComparedRun mounted(Random random) {
            return few(random).offset(4 * random.nextGaussian()).made();
        }
    }

    @Nested
    class The_power_that_is_stated {
        @Test
        void of_a_group_is_that_of_repetitions() {
            double[] stated = {0};
            double shown = share(
                    21,
                    List.of("landing=8deg"),
                    random -> one(few(random).cycles(40), few(random).cycles(40)),
                    comparison -> {
                        stated[0] += comparison.judged().get(0).power().orElseThrow() / TRIALS;
                        return firstGroupEquivalent(comparison);
                    });

            assertThat(shown)
                    .as("seed 21")
                    .isCloseTo(stated[0], within(0.06)); // 4 standard errors of 0.9 in 400 trials
        }

        @Test
        void of_everything_is_near_that_of_repetitions() {
            double[] stated = {0};
            double shown = share(
                    22,
                    List.of("landing=8deg"),
                    random -> one(some(random).cycles(60), some(random).cycles(60)),
                    comparison -> {
                        stated[0] += comparison.power() / TRIALS;
                        return comparison.change() == Change.EQUIVALENT;
                    });

            // from the spreads of each repetition, which make it more or less sure of itself
            assertThat(stated[0]).as("seed 22").isCloseTo(shown, within(0.1));
        }

        @Test
        void rises_to_ninety_per_cent_with_the_further_shifts_that_are_named() {
            Comparison few = Comparing.compare(
                    one(run(new Random(23)), run(new Random(24))),
                    Optional.empty(),
                    List.of(Margins.read("landing=6deg")),
                    List.of());
            Compared undecided = few.judged().stream()
                    .filter(row -> row.moreShifts().isPresent())
                    .findFirst()
                    .orElseThrow();
            int cycles = 24 + undecided.moreShifts().getAsInt();

            double shown = share(
                    25,
                    List.of("landing=6deg"),
                    random -> one(few(random).cycles(cycles), few(random).cycles(cycles)),
                    ErrorRatesTest::firstGroupEquivalent);

            // the spread that 24 shifts show is itself uncertain by a seventh
            assertThat(shown).as("seeds 23 to 25, %d cycles", cycles).isBetween(0.8, 0.98);
        }
    }
}
