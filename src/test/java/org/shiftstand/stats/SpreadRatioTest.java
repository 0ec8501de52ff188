package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** Ratios of spreads: what is claimed of them holds, also where values are not normal. */
class SpreadRatioTest {
    private static final int TRIALS = 4000;
    private static final double FOUR_ERRORS = 4 * Math.sqrt(0.05 * 0.95 / TRIALS);

    private static Sample sample(Random random, ToDoubleFunction<Random> draw, double sd, int n) {
        double[] values = new double[n];
        for (int i = 0; i < n; i++) {
            values[i] = sd * draw.applyAsDouble(random);
        }
        return Sample.of(values);
    }

    /** Of heavy tails: Student's t with 5 degrees of freedom. */
    private static double heavy(Random random) {
        double squares = 0;
        for (int i = 0; i < 5; i++) {
            double z = random.nextGaussian();
            squares += z * z;
        }
        return random.nextGaussian() / Math.sqrt(squares / 5);
    }

    @Nested
    class Alike_at_the_margin_is_wrongly_said_in_at_most_five_per_cent {
        private double wrong(int seed, ToDoubleFunction<Random> draw, int n) {
            Random random = new Random(seed);
            int said = 0;
            for (int i = 0; i < TRIALS; i++) {
                SpreadRatio ratio =
                        SpreadRatio.of(List.of(sample(random, draw, 1, n)), List.of(sample(random, draw, 1.5, n)), 1);
                ConfidenceLimits.Limits limits = ratio.limits(0.95);
                said += limits.low() > 1 / 1.5 && limits.high() < 1.5 ? 1 : 0;
            }
            return (double) said / TRIALS;
        }

        @Test
        void of_normal_values() {
            assertThat(wrong(3, Random::nextGaussian, 60)).as("seed 3").isLessThan(0.05 + FOUR_ERRORS);
        }

        @Test
        void of_values_with_heavy_tails() {
            assertThat(wrong(4, SpreadRatioTest::heavy, 60)).as("seed 4").isLessThan(0.05 + FOUR_ERRORS);
        }

        @Test
        void of_evenly_spread_values() {
            assertThat(wrong(5, Random::nextDouble, 60)).as("seed 5").isLessThan(0.05 + FOUR_ERRORS);
        }

        @Test
        void of_skewed_values() {
            assertThat(wrong(6, random -> -Math.log(1 - random.nextDouble()), 120))
                    .as("seed 6")
                    .isLessThan(0.05 + FOUR_ERRORS);
        }
    }

    @Test
    void the_power_stated_is_the_share_of_repetitions_that_succeed() {
        int seed = 7;
        Random random = new Random(seed);
        int shown = 0;
        double stated = 0;
        for (int i = 0; i < TRIALS; i++) {
            SpreadRatio ratio = SpreadRatio.of(
                    List.of(sample(random, Random::nextGaussian, 1, 80)),
                    List.of(sample(random, Random::nextGaussian, 1, 80)),
                    1);
            ConfidenceLimits.Limits limits = ratio.limits(0.95);
            shown += limits.low() > 1 / 1.5 && limits.high() < 1.5 ? 1 : 0;
            stated += ratio.power(1.5, 0.05) / TRIALS;
        }

        // the kurtosis that each repetition finds makes it a little more or less sure of itself
        assertThat((double) shown / TRIALS).as("seed %d", seed).isCloseTo(stated, within(0.03));
    }

    @Test
    void groups_are_each_about_their_own_mean() {
        Random random = new Random(8);
        Sample low = sample(random, Random::nextGaussian, 1, 50);
        double[] far = new double[50];
        for (int i = 0; i < 50; i++) {
            far[i] = 1000 + random.nextGaussian();
        }

        SpreadRatio ratio = SpreadRatio.of(List.of(low, Sample.of(far)), List.of(low), 1);

        assertThat(ratio.ratio()).isCloseTo(1, within(0.2));
    }
}
