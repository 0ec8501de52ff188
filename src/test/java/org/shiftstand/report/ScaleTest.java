package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

class ScaleTest {
    @Test
    void values_lie_where_the_axis_puts_them() {
        Scale up = new Scale(0, 100, 300, 100);

        assertThat(up.at(0)).isEqualTo(300);
        assertThat(up.at(50)).isEqualTo(200);
        assertThat(up.clamped(250)).isEqualTo(100);
    }

    @Test
    void ticks_are_round_and_inside() {
        assertThat(new Scale(-31, 87, 0, 1).ticks(6)).containsExactly(-20.0, 0.0, 20.0, 40.0, 60.0, 80.0);
        assertThat(new Scale(0, 3, 0, 1).wholeTicks(8)).containsExactly(0.0, 1.0, 2.0, 3.0);
    }

    @Test
    void ticks_stay_few_and_tell_themselves_apart_on_any_axis() {
        Random random = new Random(4);
        for (int i = 0; i < 2000; i++) {
            double low = random.nextGaussian() * Math.pow(10, random.nextInt(9) - 4);
            double span = Math.pow(10, random.nextDouble() * 9 - 4);
            Scale scale = new Scale(low, low + span, 0, 500);

            assertThat(scale.ticks(7)).as("draw %s", i).hasSizeBetween(2, 8).allMatch(v -> v > low - span * 1e-6);
            assertThat(scale.ticks(7).stream().map(v -> Figures.bare(v, scale.tickDecimals(7))))
                    .as("draw %s", i)
                    .doesNotHaveDuplicates();
        }
    }

    @Test
    void an_axis_without_a_span_is_refused() {
        assertThatThrownBy(() -> new Scale(1, 1, 0, 10)).hasMessage("an axis needs a span: low=1.0, high=1.0");
        assertThatThrownBy(() -> new Scale(Double.NaN, 1, 0, 10)).isInstanceOf(IllegalArgumentException.class);
        assertThat(new Scale(0, 1e-9, 0, 1).at(1e-9)).isCloseTo(1, within(1e-12));
    }
}
