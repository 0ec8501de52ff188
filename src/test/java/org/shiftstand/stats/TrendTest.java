package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** Published examples are held by {@code reference.ReferencesTest}; this is what must hold beside them. */
class TrendTest {
    private static double[] places(int n) {
        return IntStream.range(0, n).asDoubleStream().toArray();
    }

    private static double[] noise(Random random, int n, double phi) {
        double[] values = new double[n];
        double last = random.nextGaussian();
        for (int i = 0; i < n; i++) {
            values[i] = last;
            last = phi * last + Math.sqrt(1 - phi * phi) * random.nextGaussian();
        }
        return values;
    }

    private static double[] on(double[] noise, double slope) {
        return IntStream.range(0, noise.length)
                .mapToDouble(i -> noise[i] + slope * i)
                .toArray();
    }

    @Nested
    class A_line_of_median_slope {
        @Test
        void is_the_line_itself_for_points_on_one() {
            TheilSen line = TheilSen.of(new double[] {3, 1, 2}, new double[] {16, 12, 14})
                    .orElseThrow();

            assertThat(line.slope()).isEqualTo(2);
            assertThat(line.intercept()).isEqualTo(10);
            assertThat(line.interceptOfMedians()).isEqualTo(10);
        }

        @Test
        void bears_a_quarter_of_wild_points() {
            double[] y = on(new double[40], 0.5);
            for (int i = 0; i < 10; i++) {
                y[4 * i] = 1e6;
            }

            assertThat(TheilSen.of(places(40), y).orElseThrow().slope()).isCloseTo(0.5, within(1e-9));
        }

        @Test
        void does_not_exist_where_no_abscissas_differ() {
            assertThat(TheilSen.of(new double[] {2, 2}, new double[] {1, 5})).isEmpty();
            assertThat(TheilSen.of(new double[] {}, new double[] {})).isEmpty();
        }

        /** 3 points have slopes for no interval at 95 %. */
        @Test
        void has_no_interval_for_too_few_points() {
            assertThat(TheilSen.of(places(3), new double[] {1, 2, 4})
                            .orElseThrow()
                            .limits(0.95))
                    .isEmpty();
        }

        @Test
        void refuses_what_is_no_number() {
            assertThatThrownBy(() -> TheilSen.of(places(2), new double[] {1, Double.NaN}))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessageContaining("value[1]=NaN");
        }

        /** Beyond the listed points slopes are searched for: the same ones as a list gives, ties and all. */
        @Test
        void is_the_same_for_many_points_whether_slopes_are_listed_or_searched_for() {
            Random random = new Random(11);
            int n = PairSlopes.LISTED + 100;
            double[] x = random.ints(n, 0, 400).asDoubleStream().toArray();
            double[] y = random.ints(n, -50, 50).asDoubleStream().toArray();
            double[] all = slopes(x, y);

            PairSlopes slopes = new PairSlopes(x, y);

            assertThat(slopes.count()).isEqualTo(all.length);
            // 90 a place over 400 places: 36 000, whose last place is 7e-12, over a distance of 1
            for (int rank : new int[] {1, 1000, all.length / 3, all.length / 2, all.length - 7, all.length}) {
                assertThat(slopes.at(rank)).as("rank %d", rank).isCloseTo(all[rank - 1], within(7.3e-12));
            }
        }

        private static double[] slopes(double[] x, double[] y) {
            return IntStream.range(0, x.length)
                    .boxed()
                    .flatMapToDouble(i -> IntStream.range(i + 1, x.length)
                            .filter(j -> x[j] != x[i])
                            .mapToDouble(j -> (y[j] - y[i]) / (x[j] - x[i])))
                    .sorted()
                    .toArray();
        }

        @Test
        void has_the_true_slope_in_its_interval_as_often_as_stated() {
            for (double phi : new double[] {0, 0.3}) {
                int held = 0;
                for (int seed = 1; seed <= 1000; seed++) {
                    double[] y = on(noise(new Random(seed), 40, phi), 0.1);
                    double inflation = new Persistence(phi).ofTrend(40);
                    held += TheilSen.of(places(40), y)
                                    .orElseThrow()
                                    .limits(0.95, inflation)
                                    .orElseThrow()
                                    .hold(0.1)
                            ? 1
                            : 0;
                }
                // three standard errors of 95 % over 1000
                assertThat(held / 1000.0).as("phi %s, seeds 1 to 1000", phi).isCloseTo(0.95, within(0.021));
            }
        }
    }

    @Nested
    class A_trend_test {
        @Test
        void finds_nothing_in_values_that_are_all_alike() {
            MannKendall test = MannKendall.of(4, 4, 4, 4);

            assertThat(test.s()).isZero();
            assertThat(test.p()).isEqualTo(1);
            assertThat(test.tau()).isZero();
        }

        @Test
        void counts_pairs_as_looking_at_each_would() {
            for (long seed = 1; seed <= 50; seed++) {
                double[] values =
                        new Random(seed).ints(30, 0, 9).asDoubleStream().toArray();
                long s = 0;
                for (int i = 0; i < 30; i++) {
                    for (int j = i + 1; j < 30; j++) {
                        s += (long) Math.signum(values[j] - values[i]);
                    }
                }
                assertThat(MannKendall.of(values).s()).as("seed %d", seed).isEqualTo(s);
            }
        }

        @Test
        void turns_its_sign_with_the_order() {
            MannKendall up = MannKendall.of(1, 3, 2, 5, 4);
            MannKendall down = MannKendall.of(4, 5, 2, 3, 1);

            assertThat(up.s()).isEqualTo(-down.s());
            assertThat(up.p()).isEqualTo(down.p());
        }

        @Test
        void keeps_to_its_level_for_values_that_follow_their_predecessors_where_that_is_known() {
            int plain = 0;
            int corrected = 0;
            int published = 0;
            for (int seed = 1; seed <= 1000; seed++) {
                double[] values = noise(new Random(seed), 60, 0.5);
                MannKendall test = MannKendall.of(values);
                plain += test.p() <= 0.05 ? 1 : 0;
                corrected += test.inflatedBy(new Persistence(0.5).ofTrend(60)).p() <= 0.05 ? 1 : 0;
                published += MannKendall.hamedRao(values).p() <= 0.05 ? 1 : 0;
            }
            assertThat(plain).as("without correction, seeds 1 to 1000").isGreaterThan(200);
            assertThat(published).as("by Hamed and Rao").isLessThan(plain);
            // three standard errors above 5 %
            assertThat(corrected).as("corrected").isLessThanOrEqualTo(71);
        }
    }

    @Nested
    class A_test_for_one_step {
        @Test
        void never_has_a_p_above_one() {
            assertThat(Pettitt.of(1, 5, 2, 4, 3).p()).isEqualTo(1);
            assertThat(Pettitt.of(7, 7, 7).p()).isEqualTo(1);
            assertThat(Pettitt.of(7, 7, 7).after()).isZero();
        }

        @Test
        void finds_the_place_and_the_way() {
            Pettitt test = Pettitt.of(1, 2, 1, 2, 1, 9, 8, 9, 8, 9, 8, 9);

            assertThat(test.after()).isEqualTo(5);
            assertThat(test.rises()).isTrue();
        }
    }

    @Nested
    class Following {
        @Test
        void is_found_beside_a_trend_and_a_step() {
            for (double phi : new double[] {0, 0.3, 0.6}) {
                double[] values = on(noise(new Random(21), 5000, phi), 0.001);
                for (int i = 2500; i < 5000; i++) {
                    values[i] += 8;
                }
                assertThat(Persistence.of(values).phi()).as("phi %s", phi).isCloseTo(phi, within(0.07));
            }
        }

        @Test
        void inflates_nothing_where_there_is_none() {
            assertThat(new Persistence(0).ofTrend(50)).isEqualTo(1);
            assertThat(new Persistence(0).ofSums()).isEqualTo(1);
            assertThat(Persistence.of(1, 1, 1, 1).phi()).isZero();
        }
    }

    @Nested
    class A_chart {
        /** 200 values in each of 400 charts: one false signal in twenty charts was asked for. */
        @Test
        void signals_falsely_no_more_often_than_its_limits_are_set_for() {
            int weighted = 0;
            int sums = 0;
            for (int seed = 1; seed <= 400; seed++) {
                double[] values = noise(new Random(seed), 200, 0);
                double looks = 200 / 0.05;
                weighted += Ewma.of(values, 0, 1, 0.2, Ewma.width(looks))
                                .firstOutside()
                                .isPresent()
                        ? 1
                        : 0;
                sums += Cusum.of(values, 0, 0.5, Cusum.threshold(0.5, looks))
                                .firstOutside()
                                .isPresent()
                        ? 1
                        : 0;
            }
            // 20 expected at most; three standard errors
            assertThat(weighted).as("seeds 1 to 400").isLessThanOrEqualTo(33);
            assertThat(sums).as("seeds 1 to 400").isLessThanOrEqualTo(33);
        }

        @Test
        void has_not_signalled_where_nothing_leaves_the_limits() {
            assertThat(Ewma.of(new double[] {1, -1, 1}, 0, 1, 0.2, 3).firstOutside())
                    .isEmpty();
            assertThat(Cusum.of(new double[] {1, -1, 1}, 0, 0.5, 4).firstOutside())
                    .isEmpty();
            assertThat(Cusum.of(new double[] {0, 9, 9}, 0, 0.5, 4).firstOutside())
                    .hasValue(1);
        }
    }

    @Nested
    class A_projection {
        private static Optional<Projection> project(double[] y, double limit) {
            TheilSen line = TheilSen.of(places(y.length), y).orElseThrow();
            return LineBand.of(line, line.limits(0.95), 0.95, 1)
                    .flatMap(band -> Projection.of(line, band, limit, y.length - 1));
        }

        /** A line that rises by 0.1 a place reaches 12 at place 120. */
        @Test
        void has_the_true_place_in_its_interval_as_often_as_stated() {
            int held = 0;
            for (int seed = 1; seed <= 1000; seed++) {
                Projection projection =
                        project(on(noise(new Random(seed), 60, 0), 0.1), 12).orElseThrow();
                held += projection.from() <= 120 && 120 <= projection.to() ? 1 : 0;
            }
            // three standard errors of 95 % over 1000, and the median's spread is asymptotic
            assertThat(held / 1000.0).as("seeds 1 to 1000").isBetween(0.925, 0.98);
        }

        @Test
        void is_none_where_the_line_leads_away_or_may_be_level() {
            double[] rising = on(noise(new Random(5), 60, 0), 0.1);

            assertThat(project(rising, -10)).isEmpty();
            assertThat(project(noise(new Random(5), 60, 0), 10)).isEmpty();
        }

        @Test
        void is_exact_for_points_on_a_line() {
            Projection projection = project(on(new double[20], 0.5), 25).orElseThrow();

            assertThat(projection.at()).isCloseTo(50, within(1e-9));
            assertThat(projection.from()).isCloseTo(50, within(1e-6));
            assertThat(projection.to()).isCloseTo(50, within(1e-6));
        }
    }

    @Test
    void ranks_of_alike_values_are_shared() {
        assertThat(Ordered.ranks(new double[] {5, 1, 5, 9})).containsExactly(2.5, 1, 2.5, 4);
        assertThat(Arrays.stream(Ordered.ties(new double[] {5, 1, 5, 9, 1, 1}))
                        .sorted()
                        .toArray())
                .containsExactly(2, 3);
    }
}
