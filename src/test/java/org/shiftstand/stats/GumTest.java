package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class GumTest {
    private static final double MANY = Double.POSITIVE_INFINITY;

    @Nested
    class Independent_components {
        @Test
        void add_as_squares_whatever_their_sign() {
            Gum.Combined both = Gum.combine(new double[] {-3, 4}, new double[] {MANY, MANY});

            assertThat(both.standard()).isCloseTo(5, within(1e-12));
            assertThat(both.shares()).containsExactly(new double[] {0.36, 0.64}, within(1e-12));
            assertThat(both.freedom()).isInfinite();
        }

        @Test
        void have_the_freedom_of_the_one_that_rules() {
            Gum.Combined one = Gum.combine(new double[] {10, 0.001}, new double[] {4, 1});

            assertThat(one.freedom()).isCloseTo(4, within(1e-6));
        }

        @Test
        void of_the_same_size_add_their_freedoms() {
            assertThat(Gum.combine(new double[] {1, 1}, new double[] {5, 5}).freedom())
                    .isCloseTo(10, within(1e-12));
        }

        @Test
        void that_are_none_give_no_uncertainty() {
            Gum.Combined nothing = Gum.combine(new double[] {}, new double[] {});

            assertThat(nothing.standard()).isZero();
            assertThat(nothing.expanded(0.95)).isZero();
        }
    }

    @Nested
    class Correlated_components {
        private static final double[][] FULLY = {{1, 1}, {1, 1}};
        private static final double[][] AGAINST = {{1, -1}, {-1, 1}};

        @Test
        void add_as_they_are_where_they_go_together() {
            assertThat(Gum.combine(new double[] {3, 4}, new double[] {MANY, MANY}, FULLY)
                            .standard())
                    .isCloseTo(7, within(1e-12));
        }

        @Test
        void cancel_where_they_go_against_each_other() {
            assertThat(Gum.combine(new double[] {3, 3}, new double[] {MANY, MANY}, AGAINST)
                            .standard())
                    .isZero();
        }

        /** Monte-Carlo: two inputs, r = 0.5, u of the result by simulation of normal errors. */
        @Test
        void give_the_spread_that_simulated_errors_have() {
            var random = new SplittableRandom(41);
            double r = 0.5;
            double[] sums = new double[200_000];
            for (int i = 0; i < sums.length; i++) {
                double a = random.nextGaussian();
                double b = r * a + Math.sqrt(1 - r * r) * random.nextGaussian();
                sums[i] = 2 * a - 3 * b;
            }

            double stated = Gum.combine(
                            new double[] {2, -3}, new double[] {MANY, MANY}, new double[][] {{1, r}, {r, 1}})
                    .standard();

            // sd of a simulated sd: 1 / √(2n) = 0.16 %; four of those
            assertThat(Sample.of(sums).standardDeviation().orElseThrow()).isCloseTo(stated, within(0.0064 * stated));
        }

        @Test
        void are_refused_where_the_matrix_is_not_symmetric() {
            assertThatThrownBy(() ->
                            Gum.combine(new double[] {1, 1}, new double[] {1, 1}, new double[][] {{1, 0.5}, {0.2, 1}}))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("r[0][1]=0.5");
        }
    }

    @Nested
    class The_coverage_factor {
        /** JCGM 100:2008, table G.2. */
        @Test
        void is_that_of_the_printed_table() {
            assertThat(Gum.coverageFactor(1, 0.95)).isCloseTo(12.71, within(0.005));
            assertThat(Gum.coverageFactor(5, 0.99)).isCloseTo(4.03, within(0.005));
            assertThat(Gum.coverageFactor(20, 0.9545)).isCloseTo(2.13, within(0.005));
            assertThat(Gum.coverageFactor(MANY, 0.9973)).isCloseTo(3.000, within(0.0005));
        }

        @Test
        void is_taken_at_the_whole_freedom_below() {
            assertThat(Gum.coverageFactor(5.99, 0.95)).isEqualTo(Gum.coverageFactor(5, 0.95));
        }

        @Test
        void is_not_spoilt_by_rounding_just_below_a_whole_freedom() {
            assertThat(Gum.truncated(12 - 1e-13)).isEqualTo(12);
        }

        @Test
        void needs_a_confidence_between_none_and_all() {
            assertThatThrownBy(() -> Gum.coverageFactor(5, 95)).hasMessageContaining("confidence=95");
        }
    }
}
