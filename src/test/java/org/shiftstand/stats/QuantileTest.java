package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** Where a quantile or a tail has a closed form, it is met to eleven digits, however far out. */
class QuantileTest {
    private static final double PERCENT = 1e-9;
    private static final double[] FAR_AND_NEAR = {1e-9, 0.001, 0.05, 0.3, 0.8, 0.975, 0.9999};

    /** Two degrees of freedom: an exponential distribution, −2 ln(1 − p). */
    @Test
    void chi_squared_of_two_degrees_is_exponential() {
        for (double p : FAR_AND_NEAR) {
            assertThat(Quantile.chiSquared(2, p))
                    .as("p %s", p)
                    .isCloseTo(-2 * Math.log1p(-p), withinPercentage(PERCENT));
        }
    }

    /** Beta of 1 and n: the smallest of n uniform values, 1 − (1 − p)^(1/n). */
    @Test
    void beta_of_one_and_n_is_the_smallest_of_n_values() {
        for (double n : new double[] {1, 3, 5000, 1e6}) {
            for (double p : FAR_AND_NEAR) {
                assertThat(Quantile.beta(1, n, p))
                        .as("n %s, p %s", n, p)
                        .isCloseTo(-Math.expm1(Math.log1p(-p) / n), withinPercentage(PERCENT));
            }
        }
    }

    @Nested
    class Students_t {
        /** One degree of freedom: Cauchy's distribution, tan(π(p − ½)). */
        @Test
        void of_one_degree_is_cauchys() {
            for (double p : new double[] {0.001, 0.05, 0.3, 0.8, 0.975, 0.9999}) {
                assertThat(Quantile.t(1, p))
                        .as("p %s", p)
                        .isCloseTo(Math.tan(Math.PI * (p - 0.5)), withinPercentage(PERCENT));
            }
        }

        /** Two degrees: (2p − 1)/√(2p(1 − p)). */
        @Test
        void of_two_degrees_has_a_root() {
            for (double p : new double[] {0.001, 0.05, 0.3, 0.8, 0.975, 0.9999}) {
                assertThat(Quantile.t(2, p))
                        .as("p %s", p)
                        .isCloseTo((2 * p - 1) / Math.sqrt(2 * p * (1 - p)), withinPercentage(PERCENT));
            }
        }

        @Test
        void is_0_in_the_middle() {
            assertThat(Quantile.t(7, 0.5)).isZero();
        }
    }

    @Nested
    class A_ratio_of_variances {
        /** Two degrees above: (1 + 2f/ν)^(−ν/2). */
        @Test
        void has_a_p_value_also_where_next_to_nothing_is_left() {
            for (double f : new double[] {0.01, 1, 8, 200, 4000}) {
                assertThat(VarianceRatio.pValue(f, 2, 24))
                        .as("f %s", f)
                        .isCloseTo(Math.pow(1 + 2 * f / 24, -12), withinPercentage(PERCENT));
            }
        }

        @Test
        void speaks_against_nothing_where_nothing_varies_and_for_sure_where_only_the_groups_do() {
            assertThat(VarianceRatio.pValue(Double.NaN, 2, 24)).isEqualTo(1);
            assertThat(VarianceRatio.pValue(0, 2, 24)).isEqualTo(1);
            assertThat(VarianceRatio.pValue(Double.POSITIVE_INFINITY, 2, 24)).isZero();
        }
    }

    @Nested
    class Exact_limits_of_a_proportion {
        /** No hit in n: 1 − (1 − confidence)^(1/n); all hits likewise. */
        @Test
        void without_a_hit_have_a_closed_form() {
            assertThat(ConfidenceLimits.proportion(0, 5000, 0.99).high())
                    .isCloseTo(-Math.expm1(Math.log(0.01) / 5000), withinPercentage(PERCENT));
            assertThat(ConfidenceLimits.proportion(20, 20, 0.95).low())
                    .isCloseTo(Math.pow(0.05, 1.0 / 20), withinPercentage(PERCENT));
        }

        /** One hit in n is surely above what gives a hit or more with 1 − confidence: 1 − confidence^(1/n). */
        @Test
        void keep_their_digits_for_one_hit_in_a_million() {
            assertThat(ConfidenceLimits.proportion(1, 1_000_000, 0.975).low())
                    .isCloseTo(-Math.expm1(Math.log(0.975) / 1e6), withinPercentage(PERCENT));
        }
    }
}
