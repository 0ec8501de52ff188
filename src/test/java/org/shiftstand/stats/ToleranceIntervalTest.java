package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.shiftstand.stats.ToleranceInterval.Sides.BOTH;
import static org.shiftstand.stats.ToleranceInterval.Sides.LOWER;
import static org.shiftstand.stats.ToleranceInterval.Sides.UPPER;

import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class ToleranceIntervalTest {
    /** 1, 2, … n: each value is its own place. */
    private static Sample places(int n) {
        return Sample.of(IntStream.rangeClosed(1, n).asDoubleStream().toArray());
    }

    @Nested
    class From_order_statistics {
        /** Wilks 1941: 93 values for 95 %, 95 % between the ends, 59 on one side; figures from memory. */
        @Test
        void needs_ninety_three_values_between_both_ends_and_fifty_nine_on_one_side() {
            assertThat(ToleranceInterval.ofOrder(places(92), BOTH, 0.95, 0.95)).isEmpty();
            assertThat(ToleranceInterval.ofOrder(places(93), BOTH, 0.95, 0.95)).hasValueSatisfying(ends -> {
                assertThat(ends.low()).isEqualTo(1);
                assertThat(ends.high()).isEqualTo(93);
            });
            assertThat(ToleranceInterval.ofOrder(places(58), UPPER, 0.95, 0.95)).isEmpty();
            assertThat(ToleranceInterval.ofOrder(places(59), UPPER, 0.95, 0.95)).hasValueSatisfying(ends -> {
                assertThat(ends.low()).isEqualTo(Double.NEGATIVE_INFINITY);
                assertThat(ends.high()).isEqualTo(59);
            });
        }

        /** Worked by hand: of three values, P(range holds half) = 1 − 3·½² + 2·½³ = ½. */
        @Test
        void says_the_confidence_that_it_has() {
            assertThat(ToleranceInterval.ofOrder(places(3), BOTH, 0.5, 0.5))
                    .hasValueSatisfying(ends -> assertThat(ends.confidence()).isCloseTo(0.5, within(1e-12)));
            assertThat(ToleranceInterval.ofOrder(places(4), LOWER, 0.5, 0.9))
                    .hasValueSatisfying(
                            ends -> assertThat(ends.confidence()).isCloseTo(1 - Math.pow(0.5, 4), within(1e-12)));
        }

        @Test
        void of_one_side_is_the_confidence_limit_of_the_percentile() {
            Sample sample = places(200);

            assertThat(ToleranceInterval.ofOrder(sample, UPPER, 0.9, 0.95)
                            .orElseThrow()
                            .high())
                    .isEqualTo(
                            ConfidenceLimits.percentile(sample, 0.9, 200, 0.95).high());
            assertThat(ToleranceInterval.ofOrder(sample, LOWER, 0.9, 0.95)
                            .orElseThrow()
                            .low())
                    .isEqualTo(
                            ConfidenceLimits.percentile(sample, 0.1, 200, 0.95).low());
        }

        /** Whatever the distribution: here a skew one, whose share between two places is known. */
        @Test
        void holds_its_share_at_least_as_often_as_it_says() {
            Random random = new Random(21);
            int held = 0;
            double promised = 0;
            for (int trial = 0; trial < 4000; trial++) {
                Sample x =
                        Sample.of(random.doubles(120).map(u -> -Math.log(1 - u)).toArray());
                ToleranceInterval ends =
                        ToleranceInterval.ofOrder(x, BOTH, 0.9, 0.9).orElseThrow();
                promised = ends.confidence();
                held += Math.exp(-ends.low()) - Math.exp(-ends.high()) >= 0.9 ? 1 : 0;
            }

            // order statistics come in steps, and the step is known
            double fourErrors = 4 * Math.sqrt(promised * (1 - promised) / 4000);
            assertThat(promised).isGreaterThanOrEqualTo(0.9);
            assertThat(held / 4000.0).as("seed 21").isBetween(promised - fourErrors, promised + fourErrors);
        }
    }

    @Nested
    class Of_normal_values {
        @Test
        void lies_about_the_mean_by_its_factor() {
            Sample sample = places(12);
            double k = ToleranceFactor.twoSided(12, 0.9, 0.95);

            ToleranceInterval ends =
                    ToleranceInterval.normal(sample, BOTH, 0.9, 0.95).orElseThrow();

            assertThat((ends.low() + ends.high()) / 2).isCloseTo(6.5, within(1e-12));
            assertThat(ends.high() - ends.low()).isCloseTo(2 * k * Math.sqrt(13), within(1e-10)); // s² of 1 … 12 is 13
        }

        @Test
        void is_narrower_on_one_side_and_open_on_the_other() {
            ToleranceInterval both =
                    ToleranceInterval.normal(places(12), BOTH, 0.9, 0.95).orElseThrow();
            ToleranceInterval upper =
                    ToleranceInterval.normal(places(12), UPPER, 0.9, 0.95).orElseThrow();

            assertThat(upper.high()).isLessThan(both.high());
            assertThat(upper.low()).isEqualTo(Double.NEGATIVE_INFINITY);
        }

        @Test
        void of_one_value_does_not_exist_and_of_equal_values_is_that_value() {
            assertThat(ToleranceInterval.normal(Sample.of(3), BOTH, 0.9, 0.95)).isEmpty();
            assertThat(ToleranceInterval.normal(Sample.of(3, 3), BOTH, 0.9, 0.95))
                    .hasValueSatisfying(ends ->
                            assertThat(ends.low()).isEqualTo(ends.high()).isEqualTo(3));
        }
    }

    @Test
    void a_share_or_a_confidence_of_1_is_refused() {
        assertThatThrownBy(() -> ToleranceInterval.ofOrder(places(9), BOTH, 1, 0.95))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("coverage=1.0");
        assertThatThrownBy(() -> ToleranceInterval.normal(places(9), BOTH, 0.9, Double.NaN))
                .hasMessageContaining("confidence=NaN");
    }
}
