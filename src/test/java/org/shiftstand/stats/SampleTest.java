package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.assertj.core.api.Assertions.withinPercentage;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class SampleTest {
    /** REF-STRD-UNI: NIST StRD univariate, certified means and standard deviations. */
    @Nested
    class Certified_by_nist_strd {
        @Test
        void lew() throws IOException {
            Sample lew = Sample.of(column("strd_lew.csv", 0));

            assertThat(lew.count()).isEqualTo(200);
            assertThat(lew.mean()).hasValueCloseTo(-177.435000000000, within(1e-11));
            assertThat(lew.standardDeviation()).hasValueCloseTo(277.332168044316, within(1e-11));
        }

        @Test
        void lottery() throws IOException {
            Sample lottery = Sample.of(column("strd_lottery.csv", 0));

            assertThat(lottery.count()).isEqualTo(218);
            assertThat(lottery.mean()).hasValueCloseTo(518.958715596330, within(1e-11));
            assertThat(lottery.standardDeviation()).hasValueCloseTo(291.699727470969, within(1e-11));
        }

        @Test
        void numacc1_keeps_its_unit_spread_beside_ten_million() throws IOException {
            Sample numAcc1 = Sample.of(column("strd_numacc1.csv", 0));

            assertThat(numAcc1.mean()).hasValue(10000002);
            assertThat(numAcc1.standardDeviation()).hasValueCloseTo(1.0, within(1e-12));
        }

        /** One pass (sum of squares minus n·mean²) gives 0.0987 here. */
        @Test
        void numacc3_is_not_lost_to_cancellation() throws IOException {
            Sample numAcc3 = Sample.of(column("strd_numacc3.csv", 0));

            assertThat(numAcc3.count()).isEqualTo(1001);
            assertThat(numAcc3.mean()).hasValueCloseTo(1000000.2, within(1e-9));
            // the decimals of the data are not exact in binary: 3.5e-10 relative is left by any exact sum of doubles
            assertThat(numAcc3.standardDeviation()).hasValueCloseTo(0.1, within(1e-10));
        }

        /** REF-STRD-AOV-ATMWTAG: the residual standard deviation of a one-way layout is the pooled one. */
        @Test
        void pooled_standard_deviation_of_atmwtag() throws IOException {
            assertThat(Sample.pooledStandardDeviation(groups("strd_atmwtag.csv", 0, 2)))
                    .hasValueCloseTo(1.51048314446410E-05, withinPercentage(1e-7));
        }

        /** REF-STRD-AOV-SIRSTV. */
        @Test
        void pooled_standard_deviation_of_sirstv() throws IOException {
            assertThat(Sample.pooledStandardDeviation(groups("strd_sirstv.csv", 0, 2)))
                    .hasValueCloseTo(SIRSTV, withinPercentage(1e-9));
        }

        private static final double SIRSTV = 1.04076068334656E-01;
    }

    /** REF-LEV-01: NIST/SEMATECH e-Handbook GEAR.DAT, ten batches of ten gear diameters. */
    @Test
    void gear_batches_have_the_published_means_and_spreads() throws IOException {
        List<Sample> batches = groups("gear_dat.csv", 0, 2);

        assertThat(batches).hasSize(10);
        assertThat(batches.get(0).mean()).hasValueCloseTo(0.998, within(1e-12));
        assertThat(batches.get(0).standardDeviation()).hasValueCloseTo(0.00434613493680177, within(1e-14));
        assertThat(batches.get(5).mean()).hasValueCloseTo(0.9988, within(1e-12));
        assertThat(batches.get(5).standardDeviation()).hasValueCloseTo(0.00988601706114918, within(1e-14));
        assertThat(batches.get(9).standardDeviation()).hasValueCloseTo(0.005329165037789696, within(1e-14));
    }

    /** REF-POS-02: each series of the hand-checkable set has standard deviation 1. */
    @Test
    void hand_checkable_series_spread_by_one() {
        assertThat(Sample.of(1, 2, 3).standardDeviation()).hasValueCloseTo(1.0, within(1e-15));
        assertThat(Sample.of(103, 104, 105).standardDeviation()).hasValueCloseTo(1.0, within(1e-15));
        assertThat(Sample.of(101, 102, 103).mean()).hasValue(102);
        assertThat(Sample.of(-1, 0, 1).mean()).hasValue(0);
    }

    @Nested
    class A_percentile {
        /** Hyndman and Fan (1996), definition 7, worked by hand: (4 − 1) · 0.25 = 0.75, so 1 + 0.75 · (2 − 1). */
        @Test
        void interpolates_at_n_minus_1_times_p() {
            Sample four = Sample.of(4, 1, 3, 2);

            assertThat(four.percentile(0.25)).hasValue(1.75);
            assertThat(four.percentile(0.9)).hasValueCloseTo(3.7, within(1e-15));
        }

        @Test
        void at_the_ends_is_the_smallest_and_the_largest() {
            Sample sample = Sample.of(5, -2, 9);

            assertThat(sample.percentile(0)).hasValue(-2);
            assertThat(sample.percentile(1)).hasValue(9);
        }

        @Test
        void of_one_value_is_that_value() {
            assertThat(Sample.of(7).percentile(0.95)).hasValue(7);
        }

        @Test
        void outside_0_to_1_is_refused() {
            assertThatThrownBy(() -> Sample.of(1).percentile(95))
                    .isInstanceOf(IllegalArgumentException.class)
                    .hasMessage("a percentile's fraction lies in 0…1: fraction=95.0");
        }
    }

    @Test
    void median_of_an_even_number_is_the_mean_of_the_two_middle_values() {
        assertThat(Sample.of(10, 1, 2, 3).median()).hasValue(2.5);
        assertThat(Sample.of(10, 1, 2).median()).hasValue(2);
    }

    @Test
    void range_minimum_and_maximum_do_not_need_order() {
        Sample sample = Sample.of(3, -4, 11, 0);

        assertThat(sample.range()).hasValue(15);
        assertThat(sample.minimum()).hasValue(-4);
        assertThat(sample.maximum()).hasValue(11);
    }

    @Test
    void an_empty_sample_has_no_statistics() {
        Sample none = Sample.of();

        assertThat(none.count()).isZero();
        assertThat(none.mean()).isEmpty();
        assertThat(none.median()).isEmpty();
        assertThat(none.minimum()).isEmpty();
        assertThat(none.maximum()).isEmpty();
        assertThat(none.range()).isEmpty();
        assertThat(none.standardDeviation()).isEmpty();
    }

    @Test
    void one_value_has_no_spread() {
        assertThat(Sample.of(4).standardDeviation()).isEmpty();
        assertThat(Sample.of(4).range()).isEmpty();
        assertThat(Sample.of(4).mean()).hasValue(4);
    }

    @Test
    void a_value_that_is_not_finite_is_refused_by_its_place() {
        assertThatThrownBy(() -> Sample.of(1, Double.NaN))
                .hasMessage("a sample takes finite values only: value[1]=NaN");
    }

    /** Squares 2 and 8 about their own means, over 1 + 1 degrees of freedom: sqrt(10 / 2). */
    @Test
    void pooling_centres_each_group_on_its_own_mean() {
        assertThat(Sample.pooledStandardDeviation(List.of(Sample.of(1, 3), Sample.of(100, 104), Sample.of(7))))
                .hasValueCloseTo(Math.sqrt(5), within(1e-15));
    }

    @Test
    void pooling_groups_of_one_value_gives_nothing() {
        assertThat(Sample.pooledStandardDeviation(List.of(Sample.of(1), Sample.of(9))))
                .isEmpty();
    }

    @Test
    void a_proportion_is_hits_over_trials() {
        assertThat(Sample.proportion(3, 4)).hasValue(0.75);
        assertThat(Sample.proportion(0, 0)).isEmpty();
        assertThatThrownBy(() -> Sample.proportion(2, 1)).hasMessage("hits lie in 0…trials: hits=2, trials=1");
    }

    @Test
    void the_order_of_the_values_does_not_change_a_bit() {
        for (long seed = 1; seed <= 200; seed++) {
            Random random = new Random(seed);
            double[] values = random.doubles(50, -1e3, 1e3).toArray();
            double[] shuffled = values.clone();
            for (int i = shuffled.length - 1; i > 0; i--) {
                int j = random.nextInt(i + 1);
                double kept = shuffled[i];
                shuffled[i] = shuffled[j];
                shuffled[j] = kept;
            }

            assertThat(Sample.of(shuffled).standardDeviation())
                    .as("seed %d", seed)
                    .isEqualTo(Sample.of(values).standardDeviation());
            assertThat(Sample.of(shuffled).mean())
                    .as("seed %d", seed)
                    .isEqualTo(Sample.of(values).mean());
        }
    }

    private static List<String[]> rows(String name) throws IOException {
        try (InputStream in = SampleTest.class.getResourceAsStream("/reference/stats/" + name)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.startsWith("#"))
                    .skip(1) // header
                    .map(line -> line.split(","))
                    .toList();
        }
    }

    private static double[] column(String name, int column) throws IOException {
        return rows(name).stream()
                .mapToDouble(row -> Double.parseDouble(row[column]))
                .toArray();
    }

    private static List<Sample> groups(String name, int groupColumn, int valueColumn) throws IOException {
        Map<Integer, List<Double>> groups = new TreeMap<>();
        for (String[] row : rows(name)) {
            groups.computeIfAbsent(Integer.valueOf(row[groupColumn]), key -> new ArrayList<>())
                    .add(Double.valueOf(row[valueColumn]));
        }
        return groups.values().stream()
                .map(values -> Sample.of(
                        values.stream().mapToDouble(Double::doubleValue).toArray()))
                .toList();
    }
}
