package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

class GaugeStudyTest {
    /** Normal effects of these standard deviations. */
    private static CrossedStudy simulated(
            long seed, int[] size, double unit, double mount, double both, double repeat) {
        var random = new SplittableRandom(seed);
        double[] mounts =
                random.doubles(size[1]).map(x -> mount * random.nextGaussian()).toArray();
        double[][][] values = new double[size[0]][size[1]][size[2]];
        for (double[][] ofUnit : values) {
            double u = 1000 + unit * random.nextGaussian();
            for (int j = 0; j < size[1]; j++) {
                double cell = u + mounts[j] + both * random.nextGaussian();
                for (int k = 0; k < size[2]; k++) {
                    ofUnit[j][k] = cell + repeat * random.nextGaussian();
                }
            }
        }
        return CrossedStudy.of(values);
    }

    @Nested
    class Constants {
        /** Duncan, Quality Control and Industrial Statistics, table of d2* (last line: d2); printed to three digits. */
        @Test
        void are_those_of_the_printed_table() {
            assertThat(MeanRange.d2(2)).isCloseTo(1.128, within(0.0005));
            assertThat(MeanRange.d2(5)).isCloseTo(2.326, within(0.0005));
            assertThat(MeanRange.d2(10)).isCloseTo(3.078, within(0.0005));
            assertThat(MeanRange.d2Star(2, 1)).isCloseTo(1.414, within(0.0005));
            assertThat(MeanRange.d2Star(3, 1)).isCloseTo(1.912, within(0.0005));
            assertThat(MeanRange.d2Star(2, 5)).isCloseTo(1.191, within(0.0005));
            assertThat(MeanRange.d2Star(10, 1)).isCloseTo(3.179, within(0.0005));
        }

        /** Of two values the range is |N(0, 2)|: mean 2/√π, mean square 2. Of three, 3/√π. */
        @Test
        void are_exact_where_the_integral_is_known() {
            assertThat(MeanRange.d2(2)).isCloseTo(2 / Math.sqrt(Math.PI), within(1e-10));
            assertThat(MeanRange.d2(3)).isCloseTo(3 / Math.sqrt(Math.PI), within(1e-10));
            assertThat(MeanRange.d2Star(2, 1)).isCloseTo(Math.sqrt(2), within(1e-10));
        }

        @Test
        void exist_for_sizes_that_no_table_has() {
            assertThat(MeanRange.d2(1000)).isCloseTo(6.4829, within(0.0005)); // Tippett 1925, table X: 6.48287
        }
    }

    @Nested
    class A_study_without_reproducibility {
        /** The second mount reads the same as the first: nothing but repeats differ. */
        private final CrossedStudy study =
                CrossedStudy.of(new double[][][] {{{1, 2}, {2, 1}}, {{5, 6}, {6, 5}}, {{8, 9}, {8, 9}}});

        @Test
        void has_a_radicand_below_nought_and_a_reproducibility_of_nought() {
            AverageAndRange ranges = AverageAndRange.of(study);

            assertThat(ranges.reproducibilityRadicand()).isNegative();
            assertThat(ranges.variation().reproducibility()).isZero();
            assertThat(CrossedAnova.of(study).variation().reproducibility()).isZero();
        }
    }

    @Nested
    class Analysis_of_variance {
        @Test
        void shares_out_every_square() {
            CrossedStudy study = simulated(3, new int[] {4, 3, 5}, 5, 1, 1, 1);
            CrossedAnova anova = CrossedAnova.of(study);
            double total = 0;
            for (int i = 0; i < 4; i++) {
                for (int j = 0; j < 3; j++) {
                    for (int k = 0; k < 5; k++) {
                        double off = study.value(i, j, k) - study.mean();
                        total += off * off;
                    }
                }
            }

            assertThat(anova.totalSquares()).isCloseTo(total, within(1e-9 * total));
        }

        /** Means of 2000 studies; each component's mean is within 4 % of its variance (seeds 1…2000, no truncation). */
        @Test
        void finds_the_components_that_were_put_in() {
            double[] sums = new double[4];
            int studies = 2000;
            for (int seed = 1; seed <= studies; seed++) {
                CrossedAnova a = CrossedAnova.of(simulated(seed, new int[] {8, 6, 3}, 4, 2, 1.5, 1));
                sums[0] += a.error().mean();
                sums[1] += (a.interaction().mean() - a.error().mean()) / 3;
                sums[2] += (a.mount().mean() - a.interaction().mean()) / 24;
                sums[3] += (a.unit().mean() - a.interaction().mean()) / 18;
            }

            assertThat(sums[0] / studies).isCloseTo(1, within(0.04));
            assertThat(sums[1] / studies).isCloseTo(2.25, within(0.04 * 2.25));
            assertThat(sums[2] / studies).isCloseTo(4, within(0.08 * 4)); // 5 degrees of freedom: sd of the mean 1.6 %
            assertThat(sums[3] / studies).isCloseTo(16, within(0.06 * 16));
        }

        @Test
        void tells_a_strong_interaction_apart() {
            CrossedAnova anova = CrossedAnova.of(simulated(5, new int[] {10, 3, 3}, 5, 1, 3, 0.5));

            assertThat(anova.pools()).isFalse();
            assertThat(anova.variation().interaction()).isBetween(1.5, 6.0);
        }

        @Test
        void has_no_interaction_where_nothing_varies() {
            CrossedAnova anova = CrossedAnova.of(CrossedStudy.of(new double[2][2][2]));

            assertThat(anova.interactionF()).isZero();
            assertThat(anova.pools()).isTrue();
            assertThat(anova.variation().distinctCategories()).isEmpty();
        }
    }

    @Nested
    class Numbers {
        @Test
        void of_categories_are_truncated() {
            assertThat(new GaugeVariation(1, 0, 0, 3.5).rawDistinctCategories().orElseThrow())
                    .isCloseTo(4.935, within(1e-12));
            assertThat(new GaugeVariation(1, 0, 0, 3.5).distinctCategories()).hasValue(4);
        }

        @Test
        void of_tolerance_take_six_standard_deviations() {
            assertThat(GaugeVariation.shareOfTolerance(0.5, 10)).isCloseTo(0.3, within(1e-12));
        }
    }

    @Test
    void a_cell_with_a_value_too_few_is_refused_by_its_place() {
        assertThatThrownBy(() -> CrossedStudy.of(new double[][][] {{{1, 2}, {1, 2}}, {{1, 2}, {1}}}))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("unit=1, mount=1, values=[1.0], expected=2");
    }

    @Test
    void a_study_of_one_mount_is_refused() {
        assertThatThrownBy(() -> CrossedStudy.of(new double[][][] {{{1, 2}}, {{1, 2}}}))
                .hasMessageContaining("mounts=1");
    }
}
