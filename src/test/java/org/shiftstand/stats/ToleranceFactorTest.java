package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ToleranceFactorTest {
    @Nested
    class With_a_spread_of_its_own_degrees_of_freedom {
        /**
         * Worked out by other code in another way: SciPy 1.17, adaptive quadrature over the error of the mean with the
         * chi-squared survival function; one-sided by {@code nct.ppf(γ, ν, z√n)/√n}.
         */
        @ParameterizedTest
        @CsvSource({
            "4, 68, 0.999, 0.95, 4.32623008, 4.10784154",
            "3, 2.4, 0.999, 0.95, 12.95677707, 11.32328112",
            "1, 40, 0.99, 0.95, 4.54642721, 4.16288437",
            "0.6, 3.5, 0.95, 0.9, 5.95621767, 4.61555936",
            "8, 200, 0.99, 0.99, 3.33869804, 3.23367052"
        })
        void agrees_with_independent_integration(
                double worth, double freedom, double coverage, double confidence, double two, double one) {
            assertThat(ToleranceFactor.twoSided(worth, freedom, coverage, confidence))
                    .isCloseTo(two, within(2e-8)); // eight decimals were printed
            assertThat(ToleranceFactor.oneSided(worth, freedom, coverage, confidence))
                    .isCloseTo(one, within(2e-8));
        }

        /** NIST/SEMATECH e-Handbook and ISO 16269-6 hold tables of this case; the references test checks those. */
        @Test
        void is_the_usual_factor_where_the_freedom_is_one_less_than_the_values() {
            for (int n : new int[] {2, 5, 12, 93, 1000}) {
                assertThat(ToleranceFactor.twoSided(n, n - 1.0, 0.99, 0.95))
                        .isEqualTo(ToleranceFactor.twoSided(n, 0.99, 0.95));
                assertThat(ToleranceFactor.oneSided(n, n - 1.0, 0.99, 0.95))
                        .isEqualTo(ToleranceFactor.oneSided(n, 0.99, 0.95));
            }
        }

        /** Five values give the mean, six other groups of five the spread: 24 + 4 = 28 degrees of freedom. */
        @Test
        void holds_the_share_as_often_as_it_says() {
            var random = new Random(11);
            double k = ToleranceFactor.twoSided(5, 28, 0.9, 0.9);
            int held = 0;
            int runs = 20_000;
            for (int run = 0; run < runs; run++) {
                double mean = random.nextGaussian() / Math.sqrt(5);
                double squares = 0;
                for (int i = 0; i < 28; i++) {
                    double g = random.nextGaussian();
                    squares += g * g;
                }
                double half = k * Math.sqrt(squares / 28);
                held += share(mean - half, mean + half) >= 0.9 ? 1 : 0;
            }
            assertThat(held / (double) runs).isCloseTo(0.9, within(0.0085)); // four standard errors of a rate
        }

        private double share(double low, double high) {
            var normal = new org.apache.commons.math3.distribution.NormalDistribution(null, 0, 1);
            return normal.cumulativeProbability(high) - normal.cumulativeProbability(low);
        }

        @Test
        void needs_both_above_zero() {
            assertThatThrownBy(() -> ToleranceFactor.twoSided(0, 3, 0.9, 0.9)).hasMessageContaining("worth=0");
            assertThatThrownBy(() -> ToleranceFactor.oneSided(3.0, 0, 0.9, 0.9)).hasMessageContaining("freedom=0");
        }
    }
}
