package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.shiftstand.capture.ArraySource;

/** A few wild values in a long capture must not bend the correction of all others. Made-up pair: centre 2048, radius 1200. */
class WildValuesTest {
    private static final int N = 600;

    private final double[] time = new double[N];
    private final double[] sin = new double[N];
    private final double[] cos = new double[N];

    WildValuesTest() {
        for (int i = 0; i < N; i++) {
            double phi = Math.toRadians(12.3 * i);
            time[i] = i / 512.0;
            sin[i] = 2048 + 1200 * Math.sin(phi);
            cos[i] = 2048 + 1200 * Math.cos(phi);
        }
    }

    private Correction correction() {
        return HallDecoder.decode(new ArraySource(time, sin, cos), DecodeOptions.fromCapture())
                .correction();
    }

    @Test
    void of_any_size_early_in_the_capture_leave_offset_and_radius_as_they_are() {
        Correction sound = correction();
        sin[100] = 9_000_000;
        sin[101] = -9_000_000;
        cos[102] = 1e12;

        Correction correction = correction();

        assertThat(correction.ellipseFrom()).isEqualTo("fit");
        assertThat(correction.sinOffset()).isCloseTo(2048, within(0.5));
        assertThat(correction.cosOffset()).isCloseTo(2048, within(0.5));
        assertThat(correction.radius()).isCloseTo(sound.radius(), within(0.5));
    }

    @Test
    void two_samples_exchanged_do_not_cost_the_second_order_term() {
        double kept = sin[302];
        sin[302] = sin[305];
        sin[305] = kept;
        kept = cos[302];
        cos[302] = cos[305];
        cos[305] = kept;

        Correction correction = correction();

        assertThat(correction.secondOrderFrom()).isEqualTo("fit");
        assertThat(correction.sin2Deg()).isCloseTo(0, within(0.01));
        assertThat(correction.cos2Deg()).isCloseTo(0, within(0.01));
    }
}
