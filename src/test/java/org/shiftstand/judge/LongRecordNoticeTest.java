package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.shiftstand.capture.ArraySource;

/** What a reader is told of harmonics that a long record taught. */
class LongRecordNoticeTest {
    /** Moves of two turns both ways at 512 Hz; the fourth harmonic is a part of the fundamental. */
    private static List<String> notices(int moves, double fourth) {
        var random = new Random(5);
        double[] time = new double[moves * 200];
        double[] sin = new double[time.length];
        double[] cos = new double[time.length];
        double at = 0;
        for (int i = 0; i < time.length; i++) {
            int k = i % 200;
            double top = (i / 200 % 2 == 0 ? 1 : -1) * (9 + i / 200 * 7 % 10 * 0.4);
            at += k < 80 ? top * Math.min(1, Math.min(k, 80 - k) / 12.0) : 0;
            double a = Math.toRadians(at);
            time[i] = i / 512.0;
            sin[i] = 2100 + 1450 * (Math.sin(a) + fourth * Math.sin(4 * a)) + 2 * random.nextGaussian();
            cos[i] = 2050 + 1450 * (Math.cos(a) + fourth * Math.cos(4 * a)) + 2 * random.nextGaussian();
        }
        return Measuring.measure(new ArraySource(time, sin, cos), Optional.empty(), JudgeOptions.defaults())
                .notices();
    }

    @Test
    void it_says_from_how_much_and_what_is_left_without_and_with_them() {
        assertThat(notices(1000, 0.006))
                .anySatisfy(n -> assertThat(n)
                        .matches(
                                "harmonics of the orders 3 and 4 .* from \\d{3,4} stretches .* held out from 0\\.2\\d\\d to"
                                        + " 0\\.0\\d\\d deg rms"));
    }

    @Test
    void nothing_is_reduced_where_the_digits_shown_are_the_same() {
        assertThat(Measuring.gained(0.0853, 0.0849))
                .isEqualTo("they gain nothing that counts: on stretches held out 0.085 deg rms are left without them,"
                        + " 0.085 with them");
    }

    @Test
    void nothing_is_reduced_where_more_is_left_with_them() {
        assertThat(Measuring.gained(0.085, 0.091)).doesNotContain("reduce");
    }

    @Test
    void nothing_is_said_where_none_was_learned() {
        assertThat(notices(1000, 0)).noneMatch(n -> n.contains("harmonics of the orders"));
    }
}
