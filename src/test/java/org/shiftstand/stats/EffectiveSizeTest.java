package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class EffectiveSizeTest {
    private static final int TRIALS = 1000;

    /** A wandering of standard deviation √slow that keeps φ from value to value, beneath independent scatter; together 1. */
    private static double[] wandering(Random random, int n, double phi, double slow) {
        double[] values = new double[n];
        double state = random.nextGaussian();
        for (int i = 0; i < n; i++) {
            values[i] = Math.sqrt(slow) * state + Math.sqrt(1 - slow) * random.nextGaussian();
            state = phi * state + Math.sqrt(1 - phi * phi) * random.nextGaussian();
        }
        return values;
    }

    /** Share of series of which the one-sided 95 % limit of the mean is above the truth. */
    private static double covered(long seed, int n, double phi, double slow) {
        Random random = new Random(seed);
        int held = 0;
        for (int trial = 0; trial < TRIALS; trial++) {
            double[] values = wandering(random, n, phi, slow);
            Sample sample = Sample.of(values);
            double worth = EffectiveSize.of(values).share() * n;
            held += ConfidenceLimits.mean(
                                            sample.mean().orElseThrow(),
                                            sample.standardDeviation().orElseThrow(),
                                            worth,
                                            0.95)
                                    .high()
                            >= 0
                    ? 1
                    : 0;
        }
        return (double) held / TRIALS;
    }

    @Nested
    class Independent_values {
        @Test
        void keep_their_number_in_ninety_five_of_a_hundred_series() {
            for (int n : new int[] {24, 100, 400}) {
                Random random = new Random(31);
                int kept = 0;
                for (int trial = 0; trial < TRIALS; trial++) {
                    kept += EffectiveSize.of(wandering(random, n, 0, 0)).share() == 1 ? 1 : 0;
                }

                double fourErrors = 4 * Math.sqrt(0.95 * 0.05 / TRIALS);
                assertThat((double) kept / TRIALS).as("n %d, seed 31", n).isGreaterThanOrEqualTo(0.95 - fourErrors);
            }
        }

        @Test
        void keep_it_beneath_a_steady_drift_too() {
            Random random = new Random(32);
            int kept = 0;
            for (int trial = 0; trial < TRIALS; trial++) {
                double[] values = wandering(random, 100, 0, 0);
                for (int i = 0; i < values.length; i++) {
                    values[i] += 0.1 * i;
                }
                kept += EffectiveSize.of(values).share() == 1 ? 1 : 0;
            }

            assertThat((double) kept / TRIALS).as("seed 32").isGreaterThan(0.95 - 4 * Math.sqrt(0.95 * 0.05 / TRIALS));
        }
    }

    @Nested
    class Values_that_follow_each_other {
        /** A first-order process has (1 + φ)/(1 − φ); the larger of two estimates errs to fewer, safer values. */
        @Test
        void are_worth_what_the_process_makes_them() {
            Random random = new Random(33);
            double[] values = wandering(random, 20_000, 0.6, 1);

            assertThat(EffectiveSize.of(values).time()).as("seed 33").isCloseTo(4, within(0.5));
        }

        /** Beneath as much independent scatter: 1 + 2 · ½ · 0.9/(1 − 0.9) = 10, which neighbours alone do not show. */
        @Test
        void are_found_beneath_independent_scatter() {
            double[] values = wandering(new Random(34), 20_000, 0.9, 0.5);

            assertThat(EffectiveSize.of(values).time()).as("seed 34").isCloseTo(10, within(1.5));
            assertThat(Persistence.of(values).ofSums()).as("seed 34").isLessThan(1.4);
        }

        @Test
        void have_limits_that_hold() {
            double fourErrors = 4 * Math.sqrt(0.95 * 0.05 / TRIALS);

            assertThat(covered(35, 100, 0.6, 1)).as("seed 35").isGreaterThanOrEqualTo(0.95 - fourErrors);
            assertThat(covered(36, 400, 0.9, 1)).as("seed 36").isGreaterThanOrEqualTo(0.95 - fourErrors);
        }

        /** Four hundred values, of which ten go together: nearly; as independent ones they would hold in 70 of 100. */
        @Test
        void beneath_independent_scatter_have_limits_that_nearly_hold() {
            assertThat(covered(37, 400, 0.9, 0.5)).as("seed 37").isGreaterThan(0.89);
        }

        @Test
        void tell_together_what_few_each_would_not() {
            Random random = new Random(38);
            List<double[]> groups = new ArrayList<>();
            for (int group = 0; group < 18; group++) {
                groups.add(wandering(random, 24, 0.5, 1));
            }

            assertThat(EffectiveSize.of(groups).time()).as("seed 38").isBetween(2.0, 5.0); // 3 in truth
        }
    }

    @Test
    void equal_values_few_values_and_a_line_without_scatter_are_worth_their_number() {
        double[] line = IntStream.range(0, 50).mapToDouble(i -> 705.3 + 0.1 * i).toArray();

        assertThat(EffectiveSize.of(new double[40]).share()).isEqualTo(1);
        assertThat(EffectiveSize.of(1, 2, 3, 4).share()).isEqualTo(1);
        assertThat(EffectiveSize.of(line).share()).isEqualTo(1);
        assertThat(EffectiveSize.of(List.of()).share()).isEqualTo(1);
    }

    @Test
    void a_value_that_is_not_finite_is_refused_by_its_place() {
        assertThatThrownBy(() -> EffectiveSize.of(1, 2, 3, 4, Double.NaN, 6)).hasMessageContaining("value[4]=NaN");
    }
}
