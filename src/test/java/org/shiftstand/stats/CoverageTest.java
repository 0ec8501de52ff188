package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** Limits of 95 % hold in 95 of 100 samples, within four standard errors of the simulation. */
class CoverageTest {
    private static final int TRIALS = 4000;
    private static final double FOUR_ERRORS = 4 * Math.sqrt(0.95 * 0.05 / TRIALS);

    private static double[] normal(Random random, int n) {
        return random.doubles(n).map(x -> 5 + 3 * random.nextGaussian()).toArray();
    }

    /** Share of samples of which the one-sided limit is above (or below) the truth. */
    private static double share(int seed, int n, Function<double[], Boolean> holds) {
        Random random = new Random(seed);
        int held = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            held += holds.apply(normal(random, n)) ? 1 : 0;
        }
        return (double) held / TRIALS;
    }

    private static void isNinetyFive(double share, int seed) {
        assertThat(share).as("seed %d", seed).isBetween(0.95 - FOUR_ERRORS, 0.95 + FOUR_ERRORS);
    }

    @Nested
    class One_sided_limits_of {
        private double mean(double[] x) {
            return Sample.of(x).mean().orElseThrow();
        }

        private double sd(double[] x) {
            return Sample.of(x).standardDeviation().orElseThrow();
        }

        @Test
        void a_mean() {
            isNinetyFive(
                    share(
                            1,
                            7,
                            x -> ConfidenceLimits.mean(mean(x), sd(x), 7, 0.95).high() >= 5),
                    1);
            isNinetyFive(
                    share(
                            2,
                            7,
                            x -> ConfidenceLimits.mean(mean(x), sd(x), 7, 0.95).low() <= 5),
                    2);
        }

        @Test
        void a_standard_deviation() {
            isNinetyFive(
                    share(
                            3,
                            9,
                            x -> ConfidenceLimits.standardDeviation(sd(x), 8, 0.95)
                                            .high()
                                    >= 3),
                    3);
            isNinetyFive(
                    share(
                            4,
                            9,
                            x -> ConfidenceLimits.standardDeviation(sd(x), 8, 0.95)
                                            .low()
                                    <= 3),
                    4);
        }

        @Test
        void a_difference_of_means_with_unlike_spreads() {
            Random random = new Random(5);
            int held = 0;
            for (int trial = 0; trial < TRIALS; trial++) {
                Sample a = Sample.of(normal(random, 8));
                Sample b = Sample.of(
                        random.doubles(15).map(x -> 2 + random.nextGaussian()).toArray());
                held += ConfidenceLimits.difference(a, b, 1, 0.95).high() >= 3 ? 1 : 0;
            }
            isNinetyFive((double) held / TRIALS, 5);
        }

        /** Order statistics come in steps: at least the confidence, never less. */
        @Test
        void a_percentile_whatever_the_distribution() {
            double p90 = -Math.log(0.1); // of an exponential distribution
            ToDoubleFunction<Boolean> shareOf = upper -> {
                Random random = new Random(6);
                int held = 0;
                for (int trial = 0; trial < TRIALS; trial++) {
                    Sample x = Sample.of(
                            random.doubles(80).map(u -> -Math.log(1 - u)).toArray());
                    ConfidenceLimits.Limits limits = ConfidenceLimits.percentile(x, 0.9, 80, 0.95);
                    held += (upper ? limits.high() >= p90 : limits.low() <= p90) ? 1 : 0;
                }
                return (double) held / TRIALS;
            };

            assertThat(shareOf.applyAsDouble(true)).as("seed 6").isGreaterThanOrEqualTo(0.95 - FOUR_ERRORS);
            assertThat(shareOf.applyAsDouble(false)).as("seed 6").isGreaterThanOrEqualTo(0.95 - FOUR_ERRORS);
        }

        /** Clopper and Pearson: exact, so at least the confidence for every true share. */
        @Test
        void a_proportion() {
            for (double truth : new double[] {0.01, 0.1, 0.5, 0.93}) {
                Random random = new Random(7);
                int high = 0;
                int low = 0;
                for (int trial = 0; trial < TRIALS; trial++) {
                    long hits = random.doubles(40).filter(u -> u < truth).count();
                    ConfidenceLimits.Limits limits = ConfidenceLimits.proportion(hits, 40, 0.95);
                    high += limits.high() >= truth ? 1 : 0;
                    low += limits.low() <= truth ? 1 : 0;
                }
                assertThat((double) high / TRIALS)
                        .as("share %s, seed 7", truth)
                        .isGreaterThanOrEqualTo(0.95 - FOUR_ERRORS);
                assertThat((double) low / TRIALS)
                        .as("share %s, seed 7", truth)
                        .isGreaterThanOrEqualTo(0.95 - FOUR_ERRORS);
            }
        }

        @Test
        void cp_hold_exactly_and_those_of_cpk_nearly() {
            double cp = 20 / (6.0 * 3);
            isNinetyFive(
                    share(
                            8,
                            30,
                            x -> new Capability(mean(x), sd(x), 30, 29, -5, 15)
                                            .ofCp(0.95)
                                            .low()
                                    <= cp),
                    8);
            double cpk = share(
                    9,
                    30,
                    x -> new Capability(mean(x), sd(x), 30, 29, -5, 15)
                                    .ofCpk(0.95)
                                    .low()
                            <= cp); // the mean of 5 lies in the middle
            // a normal approximation, which errs to the safe side where the process is centred
            assertThat(cpk).as("seed 9").isGreaterThanOrEqualTo(0.95 - FOUR_ERRORS);
        }
    }

    @Nested
    class A_tolerance_interval {
        private final org.apache.commons.math3.distribution.NormalDistribution truth =
                new org.apache.commons.math3.distribution.NormalDistribution(null, 5, 3);

        @Test
        void holds_its_share_in_as_many_samples_as_it_says() {
            double k = ToleranceFactor.twoSided(12, 0.9, 0.95);

            isNinetyFive(
                    share(10, 12, x -> {
                        double mean = Sample.of(x).mean().orElseThrow();
                        double half = k * Sample.of(x).standardDeviation().orElseThrow();
                        return truth.cumulativeProbability(mean + half) - truth.cumulativeProbability(mean - half)
                                >= 0.9;
                    }),
                    10);
        }

        @Test
        void of_one_side_likewise() {
            double k = ToleranceFactor.oneSided(12, 0.9, 0.95);

            isNinetyFive(
                    share(
                            11,
                            12,
                            x -> truth.cumulativeProbability(Sample.of(x).mean().orElseThrow()
                                            + k
                                                    * Sample.of(x)
                                                            .standardDeviation()
                                                            .orElseThrow())
                                    >= 0.9),
                    11);
        }

        @Test
        void has_factors_for_few_and_many_values_and_for_little_confidence() {
            // as n grows both go to the quantile itself: 1.959964 and 1.644854
            assertThat(ToleranceFactor.twoSided(100_000, 0.95, 0.95)).isBetween(1.960, 1.970);
            assertThat(ToleranceFactor.oneSided(100_000, 0.95, 0.95)).isBetween(1.645, 1.656);
            assertThat(ToleranceFactor.twoSided(2, 0.99, 0.99))
                    .isGreaterThan(200); // 242.3 in printed tables, from memory
            assertThat(ToleranceFactor.oneSided(5, 0.6, 0.001)).isNegative();
            assertThat(ToleranceFactor.oneSided(10, 0.95, 1e-6)).isLessThan(ToleranceFactor.oneSided(10, 0.95, 0.05));
        }

        @Test
        void without_a_distribution_needs_the_values_that_are_widely_printed() {
            assertThat(ToleranceFactor.valuesForRange(0.95, 0.95)).isEqualTo(93); // Wilks 1941, from memory
            assertThat(ToleranceFactor.valuesForOneSide(0.95, 0.95)).isEqualTo(59);
        }
    }

    @Nested
    class The_test_for_normal_values {
        @Test
        void blames_as_few_normal_samples_as_it_says() {
            double blamed = 1 - share(12, 20, x -> Normality.of(x).pValue().orElseThrow() > 0.05);

            assertThat(blamed).as("seed 12").isBetween(0.05 - FOUR_ERRORS, 0.05 + FOUR_ERRORS);
        }

        @Test
        void finds_what_is_far_from_normal() {
            Random random = new Random(13);
            double[] skew = random.doubles(100).map(u -> -Math.log(1 - u)).toArray();

            assertThat(Normality.of(skew).pValue().orElseThrow()).as("seed 13").isLessThan(0.001);
        }

        @Test
        void says_nothing_of_few_values_or_of_values_that_are_all_the_same() {
            assertThat(Normality.of(new double[] {1, 2, 3}).pValue()).isEmpty();
            assertThat(Normality.of(new double[20]).pValue()).isEmpty();
        }
    }

    @Nested
    class Many_tests_together {
        /** Holm 1979, worked by hand: 0.01 × 4, 0.02 × 3, 0.03 × 2, 0.04 × 1, never falling. */
        @Test
        void are_adjusted_step_by_step() {
            assertThat(Holm.adjusted(0.04, 0.01, 0.03, 0.02))
                    .containsExactly(
                            new double[] {0.06, 0.04, 0.06, 0.06}, org.assertj.core.api.Assertions.within(1e-15));
            assertThat(Holm.adjusted(0.5, 0.9)).containsExactly(1, 1);
            assertThat(Holm.adjusted()).isEmpty();
        }
    }
}
