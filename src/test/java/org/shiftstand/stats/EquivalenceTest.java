package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.stats.Equivalence.Estimated;
import org.shiftstand.stats.Equivalence.Side;

/** Two means held side by side; the published figures are in {@code reference}. */
class EquivalenceTest {
    private static Side side(Random random, double mean, double sd, int n) {
        Sample sample = Sample.of(
                random.doubles(n).map(x -> mean + sd * random.nextGaussian()).toArray());
        return new Side(sample.mean().orElseThrow(), sample.standardDeviation().orElseThrow(), n);
    }

    @Nested
    class Power {
        /**
         * Diletti, Hauschke and Steinijans, Int. J. Clin. Pharmacol. Ther. Toxicol. 29, 1–8, 1991: bounds 0.80 to 1.25,
         * a crossover with a coefficient of variation of 20 %, a true ratio of 0.95, power of 80 %: 20 subjects.
         */
        @Test
        void of_twenty_subjects_reaches_eighty_per_cent_where_that_of_eighteen_does_not() {
            assertThat(crossover(20)).isGreaterThan(0.8);
            assertThat(crossover(18)).isLessThan(0.8);
        }

        private double crossover(int n) {
            double within = Math.sqrt(Math.log(1 + 0.2 * 0.2));
            return new Equivalence(0, within * Math.sqrt(2.0 / n), n - 2.0, Math.log(1.25)).power(Math.log(0.95), 0.05);
        }

        @Test
        void is_the_share_of_repetitions_that_succeed() {
            int seed = 11;
            int trials = 20_000;
            Random random = new Random(seed);
            int shown = 0;
            for (int i = 0; i < trials; i++) {
                Equivalence found = Equivalence.welch(side(random, 3, 10, 40), side(random, 0, 10, 40), 8);
                shown += found.pValue() <= 0.05 ? 1 : 0;
            }

            double stated = new Equivalence(0, 10 * Math.sqrt(2 / 40.0), 78, 8).power(3, 0.05);

            assertThat((double) shown / trials)
                    .as("seed %d", seed)
                    .isCloseTo(stated, within(0.014)); // 4 standard errors
        }

        @Test
        void is_nothing_where_the_margin_is_narrower_than_any_interval() {
            assertThat(new Equivalence(0, 5, 10, 0.01).power(0, 0.05)).isCloseTo(0, within(1e-6));
        }

        @Test
        void at_the_margin_is_the_error_that_is_allowed() {
            assertThat(new Equivalence(0, 1, 200, 10).power(10, 0.05)).isCloseTo(0.05, within(1e-4));
        }

        @Test
        void grows_with_more_values() {
            Equivalence few = new Equivalence(0, 3, 20, 6);

            assertThat(few.times(2).power(0, 0.05)).isGreaterThan(few.power(0, 0.05));
        }
    }

    @Nested
    class Averages_of_several_means {
        @Test
        void of_one_mean_a_side_are_welchs() {
            Side a = new Side(5, 2, 12);
            Side b = new Side(4, 3, 30);

            assertThat(Equivalence.welch(List.of(a.estimated()), List.of(b.estimated()), 2))
                    .isEqualTo(Equivalence.welch(a, b, 2));
        }

        @Test
        void give_each_mean_the_same_weight_so_that_an_even_drift_falls_on_both_sides_alike() {
            Equivalence drifting = Equivalence.welch(
                    List.of(new Estimated(0, 1, 9), new Estimated(20, 0.01, 99)), List.of(new Estimated(10, 1, 9)), 5);

            assertThat(drifting.difference()).isZero();
            assertThat(drifting.standardError()).isCloseTo(Math.sqrt((1 + 0.01) / 4 + 1), within(1e-12));
        }
    }
}
