package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;

/** No values, one value, equal values, values that are none, and values far from 0. */
class ExtremesTest {
    private static final Sample NONE = Sample.of();

    @Nested
    class Equal_values {
        /** 0.1 and 1/3 are not exact in binary: their mean must not be off by a last digit either. */
        @Test
        void have_no_spread_however_many_they_are() {
            for (double value : new double[] {0.1, 1 / 3.0, -705.3, 1e9 + 0.1}) {
                for (int n = 2; n < 400; n++) {
                    double[] values = new double[n];
                    Arrays.fill(values, value);

                    assertThat(Sample.of(values).standardDeviation())
                            .as("%d times %s", n, value)
                            .hasValue(0);
                    assertThat(Sample.of(values).mean())
                            .as("%d times %s", n, value)
                            .hasValue(value);
                }
            }
        }

        @Test
        void have_limits_that_meet() {
            assertThat(ConfidenceLimits.mean(4, 0, 9, 0.95)).isEqualTo(new ConfidenceLimits.Limits(4, 4));
            assertThat(ConfidenceLimits.standardDeviation(0, 8, 0.95)).isEqualTo(new ConfidenceLimits.Limits(0, 0));
            assertThat(ConfidenceLimits.difference(Sample.of(4, 4), Sample.of(1, 1, 1), 1, 0.95))
                    .isEqualTo(new ConfidenceLimits.Limits(3, 3));
        }

        @Test
        void are_neither_normal_nor_not_and_follow_nothing() {
            assertThat(Normality.of(new double[30]).pValue()).isEmpty();
            assertThat(Autocorrelation.of(new double[30], 1)).isEmpty();
            assertThat(Persistence.of(new double[30]).phi()).isZero();
        }

        @Test
        void have_no_capability() {
            assertThatThrownBy(() -> new Capability(3, 0, 9, 8, 0, 6)).hasMessageContaining("sd=0.0");
        }

        @Test
        void in_each_group_scatter_alike() {
            List<Sample> groups = List.of(Sample.of(1, 1), Sample.of(2, 2, 2));

            assertThat(BrownForsythe.of(groups).pValue()).isEqualTo(1);
            assertThat(OneWayAnova.of(groups).pValue()).isZero(); // but their means differ for sure
            assertThat(OneWayAnova.of(List.of(Sample.of(1, 1), Sample.of(1, 1))).pValue())
                    .isEqualTo(1);
        }

        @Test
        void of_a_position_repeat_without_error() {
            var position = new Positioning.Position(Sample.of(2, 2), Sample.of(5, 5));
            var axis = new Positioning(List.of(position));

            assertThat(position.repeatability(Positioning.Approach.FORWARD)).hasValue(0);
            assertThat(axis.repeatability(Positioning.Approach.BOTH)).hasValue(3); // the reversal alone
            assertThat(axis.accuracy(Positioning.Approach.BOTH)).hasValue(3);
            assertThat(axis.meanReversal()).hasValue(-3);
        }
    }

    @Nested
    class Too_few_values {
        @Test
        void have_no_confidence_limits() {
            assertThat(ConfidenceLimits.mean(4, 1, 1, 0.95)).isEqualTo(ConfidenceLimits.Limits.NONE);
            assertThat(ConfidenceLimits.standardDeviation(1, 0, 0.95)).isEqualTo(ConfidenceLimits.Limits.NONE);
            assertThat(ConfidenceLimits.percentile(NONE, 0.5, 0, 0.95)).isEqualTo(ConfidenceLimits.Limits.NONE);
            assertThat(ConfidenceLimits.difference(Sample.of(1), Sample.of(2, 3), 1, 0.95))
                    .isEqualTo(ConfidenceLimits.Limits.NONE);
        }

        /** 1 − 0.5⁴ is 93.75 %, 1 − 0.5⁵ is 96.9 %. */
        @Test
        void have_no_limit_of_the_median_until_there_are_five() {
            assertThat(ConfidenceLimits.percentile(Sample.of(1, 2, 3, 4), 0.5, 4, 0.95))
                    .isEqualTo(ConfidenceLimits.Limits.NONE);
            assertThat(ConfidenceLimits.percentile(Sample.of(1, 2, 3, 4, 5), 0.5, 5, 0.95))
                    .isEqualTo(new ConfidenceLimits.Limits(1, 5));
        }

        @Test
        void leave_out_what_needs_a_spread_or_both_directions() {
            var once = new Positioning.Position(Sample.of(2), NONE);
            var axis = new Positioning(List.of(once));

            assertThat(axis.systematicDeviation(Positioning.Approach.FORWARD)).hasValue(0);
            assertThat(axis.accuracy(Positioning.Approach.BOTH)).isEmpty();
            assertThat(axis.repeatability(Positioning.Approach.FORWARD)).isEmpty();
            assertThat(axis.reversal()).isEmpty();
            assertThat(axis.meanReversal()).isEmpty();
            assertThat(axis.meanDeviation()).isEmpty();
        }

        @Test
        void are_refused_where_nothing_could_be_said() {
            assertThatThrownBy(() -> PoseRepeatability.of(new double[][] {{1}})).hasMessageContaining("points=1");
            assertThatThrownBy(() -> OneWayAnova.of(List.of(Sample.of(1), Sample.of(2))))
                    .hasMessageContaining("groups=2, values=2");
            assertThatThrownBy(() -> Precision.of(List.of(Sample.of(1, 2)))).hasMessageContaining("groups=1");
            assertThatThrownBy(() -> CalibrationLine.of(new double[] {1, 2}, new double[] {1, 2}, 0))
                    .hasMessageContaining("x=2");
            assertThatThrownBy(() -> new Positioning(List.of())).hasMessageContaining("positions=0");
        }
    }

    @Nested
    class What_is_no_figure {
        @Test
        void is_refused_by_its_place() {
            double[] three = {1, 2, Double.NaN};

            assertThatThrownBy(() -> Normality.of(three)).hasMessageContaining("value[2]=NaN");
            assertThatThrownBy(() -> Autocorrelation.of(three, 1)).hasMessageContaining("value[2]=NaN");
            assertThatThrownBy(() -> CalibrationLine.of(three, new double[] {1, 2, 3}, 0))
                    .hasMessageContaining("value[2]=NaN");
            assertThatThrownBy(() -> CalibrationLine.of(new double[] {1, 2, 3}, three, 0))
                    .hasMessageContaining("value[2]=NaN");
            assertThatThrownBy(() -> PoseRepeatability.of(new double[][] {{1}, {Double.NaN}}))
                    .hasMessageContaining("value[1]=NaN");
            assertThatThrownBy(() -> Holm.adjusted(0.1, Double.NaN)).hasMessageContaining("p[1]=NaN");
            assertThatThrownBy(() -> ConfidenceLimits.mean(0, 1, 5, Double.NaN)).hasMessageContaining("confidence=NaN");
            assertThatThrownBy(() -> new Capability(Double.NaN, 1, 9, 8, 0, 6)).hasMessageContaining("mean=NaN");
            assertThatThrownBy(() -> SuccessRun.trials(Double.NaN, 0.9, 0)).hasMessageContaining("reliability=NaN");
        }

        @Test
        void such_as_a_spread_that_is_not_known_gives_no_limits() {
            assertThat(ConfidenceLimits.mean(0, Double.NaN, 5, 0.95)).isEqualTo(ConfidenceLimits.Limits.NONE);
        }
    }

    @Nested
    class Unlike_shapes {
        @Test
        void points_of_unlike_dimensions_are_refused() {
            assertThatThrownBy(() -> PoseRepeatability.of(new double[][] {{1, 2}, {1}}))
                    .hasMessageContaining("point[1] has 1, point[0] has 2");
        }

        @Test
        void a_capability_without_limits_is_refused() {
            assertThatThrownBy(() -> new Capability(3, 1, 9, 8, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY))
                    .hasMessageContaining("at least one of them");
        }
    }

    /** A first value of a billion takes seven of sixteen digits, and no more. */
    @Nested
    class Far_from_0 {
        private final double[] near = {0.25, 1.5, -2, 0.75, 3.25, -1, 0.5, 2.25, -0.75, 1};
        private final double[] far = Arrays.stream(near).map(v -> v + (1 << 30)).toArray(); // exact in binary

        @Test
        void spreads_shapes_and_ratios_stay() {
            assertThat(Sample.of(far).standardDeviation())
                    .hasValueCloseTo(Sample.of(near).standardDeviation().orElseThrow(), within(1e-12));
            assertThat(Normality.of(far).modified())
                    .hasValueCloseTo(Normality.of(near).modified().orElseThrow(), within(1e-6));
            assertThat(Autocorrelation.of(far, 1))
                    .hasValueCloseTo(Autocorrelation.of(near, 1).orElseThrow(), within(1e-6));
            assertThat(Persistence.of(far).phi()).isCloseTo(Persistence.of(near).phi(), within(1e-12));
        }

        @Test
        void ratios_of_variances_stay() {
            List<Sample> groups = List.of(half(near, 0), half(near, 5));
            List<Sample> away = List.of(half(far, 0), half(far, 5));

            assertThat(OneWayAnova.of(away).f())
                    .isCloseTo(OneWayAnova.of(groups).f(), within(1e-12));
            assertThat(BrownForsythe.of(away).w())
                    .isCloseTo(BrownForsythe.of(groups).w(), within(1e-12));
            assertThat(Precision.of(away).repeatabilitySd())
                    .isCloseTo(Precision.of(groups).repeatabilitySd(), within(1e-12));
        }

        private Sample half(double[] values, int from) {
            return Sample.of(Arrays.copyOfRange(values, from, from + 5));
        }

        @Test
        void a_line_keeps_its_slope() {
            double[] y = {1, 2, 4, 3, 5, 7, 6, 8, 9, 11};
            double[] x = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9};
            double[] away = Arrays.stream(x).map(v -> v + (1 << 30)).toArray();

            CalibrationLine line = CalibrationLine.of(x, y, 2);
            CalibrationLine moved = CalibrationLine.of(away, y, 2 + (1 << 30));

            assertThat(moved.slope()).isCloseTo(line.slope(), within(1e-12));
            assertThat(moved.intercept()).isCloseTo(line.intercept(), within(1e-12));
            assertThat(moved.correlation()).isCloseTo(line.correlation(), within(1e-12));
        }

        /** A flat line explains nothing: not a rounding's worth below nothing either. */
        @Test
        void a_flat_line_explains_nothing() {
            CalibrationLine flat = CalibrationLine.of(new double[] {1, 2, 3, 4}, new double[] {0.1, 0.3, 0.3, 0.1}, 0);

            assertThat(flat.explainedSquares()).isBetween(0.0, 1e-30);
            assertThat(flat.f()).isBetween(0.0, 1e-20);
        }
    }
}
