package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class ConformanceTest {
    private static final double NONE_BELOW = Double.NEGATIVE_INFINITY;
    private static final double NONE_ABOVE = Double.POSITIVE_INFINITY;

    @Nested
    class The_conformance_probability {
        @Test
        void is_a_half_on_a_single_limit() {
            assertThat(Conformance.normal(NONE_BELOW, 10, 0.2).probability(10)).isCloseTo(0.5, within(1e-12));
            assertThat(Conformance.normal(10, NONE_ABOVE, 0.2).probability(10)).isCloseTo(0.5, within(1e-12));
        }

        @Test
        void keeps_its_digits_far_outside() {
            // normal tail beyond 8 sd, Abramowitz and Stegun 26.2: 6.22096e-16
            assertThat(Conformance.normal(8, NONE_ABOVE, 1).probability(0)).isCloseTo(6.22096e-16, within(1e-20));
        }

        /** Student's t with 4 degrees of freedom: 95 % below 2.1318 (any table). */
        @Test
        void has_longer_tails_where_the_uncertainty_is_little_known() {
            assertThat(new Conformance(NONE_BELOW, 2.1318, 1, 4).probability(0)).isCloseTo(0.95, within(1e-5));
        }

        @Test
        void is_all_or_nothing_without_uncertainty() {
            Conformance exact = Conformance.normal(1, 2, 0);

            assertThat(exact.probability(2)).isEqualTo(1);
            assertThat(exact.probability(2.0001)).isZero();
        }
    }

    @Nested
    class The_guard_band {
        @Test
        void is_the_normal_factor_at_a_single_limit() {
            assertThat(Conformance.normal(NONE_BELOW, 10, 0.2).guardBand(0.05).orElseThrow())
                    .isCloseTo(0.2 * 1.6448536, within(1e-6));
        }

        @Test
        void is_wider_where_the_other_limit_is_near() {
            Conformance narrow = Conformance.normal(0, 4.2, 1);

            double g = narrow.guardBand(0.05).orElseThrow();

            assertThat(g).isGreaterThan(1.645);
            assertThat(narrow.probability(4.2 - g)).isCloseTo(0.95, within(1e-9));
        }

        @Test
        void does_not_exist_where_even_the_middle_is_too_risky() {
            assertThat(Conformance.normal(0, 3, 1).guardBand(0.05)).isEmpty();
        }

        @Test
        void lies_outside_where_much_risk_is_allowed() {
            assertThat(Conformance.normal(NONE_BELOW, 10, 0.2).guardBand(0.9).orElseThrow())
                    .isNegative();
        }

        @Test
        void keeps_the_risk_for_any_limits() {
            var random = new SplittableRandom(17);
            for (int i = 0; i < 300; i++) {
                double u = random.nextDouble(0.01, 1);
                double freedom = random.nextBoolean() ? NONE_ABOVE : random.nextInt(2, 30);
                double risk = random.nextDouble(0.001, 0.4);
                Conformance some = new Conformance(-random.nextDouble(0, 5), random.nextDouble(0.1, 5), u, freedom);
                var g = some.guardBand(risk);
                if (g.isPresent()) {
                    assertThat(1 - some.probability(some.upper() - g.getAsDouble()))
                            .as("%s, risk %s, round %s of seed 17", some, risk, i)
                            .isCloseTo(risk, within(1e-7));
                }
            }
        }
    }

    @Nested
    class Global_risks {
        /** One million items: the error of a share p is √(p(1 − p)/10⁶); four of those. */
        @Test
        void are_the_shares_of_simulated_items() {
            var random = new SplittableRandom(7);
            int items = 1_000_000;
            int consumer = 0;
            int producer = 0;
            for (int i = 0; i < items; i++) {
                double value = 1 + 0.8 * random.nextGaussian();
                double seen = value + 0.3 * random.nextGaussian();
                boolean good = value >= -1 && value <= 2;
                boolean accepted = seen >= -0.6 && seen <= 1.6;
                consumer += accepted && !good ? 1 : 0;
                producer += !accepted && good ? 1 : 0;
            }

            Conformance.Risks risks = Conformance.normal(-1, 2, 0.3).risks(1, 0.8, 0.4);

            assertThat(risks.consumer()).isCloseTo((double) consumer / items, within(4e-4 * 0.2));
            assertThat(risks.producer()).isCloseTo((double) producer / items, within(4e-3 * 0.5));
        }

        /** A single limit at the process's mean: the chance of two errors of a bivariate normal, Sheppard 1899. */
        @Test
        void are_exact_where_the_limit_is_the_mean() {
            double u = 0.5;
            double sd = 2;
            double rho = sd / Math.hypot(u, sd);

            Conformance.Risks risks = Conformance.normal(NONE_BELOW, 3, u).risks(3, sd, 0);

            double quarter = 0.25 - Math.asin(rho) / (2 * Math.PI);
            assertThat(risks.consumer()).isCloseTo(quarter, within(1e-10));
            assertThat(risks.producer()).isCloseTo(quarter, within(1e-10));
            assertThat(risks.accepted()).isCloseTo(0.5, within(1e-10));
        }

        @Test
        void are_none_where_nothing_is_uncertain() {
            Conformance.Risks risks = Conformance.normal(-1, 1, 0).risks(0, 1, 0);

            assertThat(risks.consumer()).isZero();
            assertThat(risks.producer()).isZero();
            assertThat(risks.conforming()).isCloseTo(0.6826894921, within(1e-9));
        }

        @Test
        void reject_every_good_item_where_the_guard_bands_meet() {
            Conformance.Risks risks = Conformance.normal(-1, 1, 0.1).risks(0, 1, 1.1);

            assertThat(risks.accepted()).isCloseTo(0, within(1e-12));
            assertThat(risks.producer()).isCloseTo(risks.conforming(), within(1e-10));
        }

        @Test
        void are_still_right_where_the_measurement_is_much_finer_than_the_process() {
            double u = 1e-5;
            Conformance.Risks risks = Conformance.normal(NONE_BELOW, 0, u).risks(0, 1, 0);

            // near the limit the density is 1/√(2π), and the mean overlap of a normal error is u/√(2π)
            assertThat(risks.consumer()).isCloseTo(u / (2 * Math.PI), within(1e-12));
        }
    }
}
