package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.capture.ArraySource;

/** Magnets whose field goes round more than once in a turn of the shaft. */
class PeriodsPerTurnTest {
    private static final double HZ = 512;

    /** Trapezoids out and back, 450 degrees of shaft each; its angle. */
    private static double[] moves(int moves) {
        double[] angle = new double[moves * 400];
        double at = 0;
        for (int i = 0; i < angle.length; i++) {
            int k = i % 400;
            double top = (i / 400 % 2 == 0 ? 1 : -1) * (3 + i / 400 * 7 % 10 * 0.1);
            at += k < 170 ? top * Math.min(1, Math.min(k, 170 - k) / 20.0) : 0;
            angle[i] = at;
        }
        return angle;
    }

    /** Of a pair with offset, gain, phase, a second-order error of {@code order2Deg} electrical degrees, and noise. */
    private static ArraySource source(double[] shaftDeg, int periods, double order2Deg) {
        var random = new Random(77);
        double[] electrical = new double[shaftDeg.length];
        for (int i = 0; i < electrical.length; i++) {
            double e = periods * shaftDeg[i];
            electrical[i] = e + order2Deg * Math.sin(2 * Math.toRadians(e));
        }
        var pair = HallPair.of(electrical, 2051, 2103, 1.04, 2, 1450);
        double[] cos = new double[electrical.length];
        double[] sin = new double[electrical.length];
        for (int i = 0; i < cos.length; i++) {
            cos[i] = Math.rint(pair.cos()[i] + 2 * random.nextGaussian());
            sin[i] = Math.rint(pair.sin()[i] + 2 * random.nextGaussian());
        }
        return new ArraySource(HallPair.times(cos.length), sin, cos);
    }

    private static AngleTrack decode(ArraySource source, int periods) {
        return HallDecoder.decode(source, DecodeOptions.fromCapture().withPeriodsPerTurn(periods));
    }

    private static double greatestError(Decoded track, double[] shaftDeg) {
        double offset = 0;
        for (int i = 0; i < track.size; i++) {
            offset += (track.angleDeg[i] - shaftDeg[i]) / track.size;
        }
        double greatest = 0;
        for (int i = 0; i < track.size; i++) {
            greatest = Math.max(greatest, Math.abs(track.angleDeg[i] - shaftDeg[i] - offset));
        }
        return greatest;
    }

    @Nested
    class Two_periods {
        private final double[] shaft = moves(100);
        private final AngleTrack track = decode(source(shaft, 2, 0.8), 2);

        @Test
        void give_the_angle_of_the_shaft() {
            // four and a half times the noise, 2.02 counts of 1450 in electrical degrees
            assertThat(greatestError(Decoded.of(track), shaft)).isLessThan(4.5 * 0.08 / 2 + 0.05);
        }

        @Test
        void keep_the_second_order_in_the_electrical_angle_and_halve_what_is_left() {
            var c = track.correction();
            var electrical = decode(source(shaft, 2, 0.8), 1).correction();

            assertThat(c.sin2Deg()).isCloseTo(0.8, within(0.05));
            assertThat(c.sin2Deg()).isEqualTo(electrical.sin2Deg());
            assertThat(c.residualDeg()).isEqualTo(electrical.residualDeg() / 2);
            assertThat(c.uncertaintyDeg()).isEqualTo(electrical.uncertaintyDeg() / 2);
        }

        @Test
        void leave_half_a_turn_open_where_a_turn_is_not_known() {
            assertThat(track.cycleDeg()).isEqualTo(180);
            assertThat(decode(source(shaft, 1, 0), 1).cycleDeg()).isEqualTo(360);
        }

        @Test
        void are_the_same_whatever_the_block_size_and_where_reading_starts() {
            var whole = Decoded.of(track);
            var odd = Decoded.read(track, track.open(), 977);
            var late = Decoded.read(track, track.open(60), 4096);

            assertThat(Arrays.mismatch(odd.angleDeg, whole.angleDeg)).isEqualTo(-1);
            assertThat(late.angleDeg[late.index(60)]).isEqualTo(whole.angleDeg[whole.index(60)]);
        }
    }

    @Nested
    class Between_two_samples {
        /** At rest, then at a constant step from sample to sample. */
        private double[] steps(double deg) {
            double[] angle = new double[60];
            for (int i = 1; i < angle.length; i++) {
                double wanted = i < 20 ? 0 : deg * Math.min(1, (i - 19) / 10.0);
                angle[i] = angle[i - 1] + wanted;
            }
            return angle;
        }

        private Decoded calibrated(double[] shaftDeg, int periods) {
            double[] electrical = new double[shaftDeg.length];
            for (int i = 0; i < electrical.length; i++) {
                electrical[i] = periods * shaftDeg[i];
            }
            var perfect = new Correction(2048, 2048, 1, 0, 1400, 0, 0, "calibration", "none", Double.NaN, 0.5);
            return Decoded.of(HallDecoder.decode(
                    HallPair.perfect(electrical),
                    DecodeOptions.calibrated(perfect).withPeriodsPerTurn(periods)));
        }

        @Test
        void eighty_degrees_are_followed_with_two_periods() {
            double[] shaft = steps(80);
            var track = calibrated(shaft, 2);

            assertThat(track.count(AngleBlock.AMBIGUOUS)).isZero();
            assertThat(track.angleDeg[59] - track.angleDeg[0]).isCloseTo(shaft[59], within(1e-6));
        }

        @Test
        void a_jump_of_a_hundred_degrees_is_ambiguous_with_two_periods_and_not_with_one() {
            double[] jump = new double[40];
            for (int i = 20; i < jump.length; i++) {
                jump[i] = 100;
            }

            assertThat(calibrated(jump, 2).count(AngleBlock.AMBIGUOUS)).isPositive();
            assertThat(calibrated(jump, 1).count(AngleBlock.AMBIGUOUS)).isZero();
        }
    }

    @Test
    void a_magnet_without_a_period_is_refused() {
        assertThatThrownBy(() -> DecodeOptions.fromCapture().withPeriodsPerTurn(0))
                .hasMessageContaining("periods=0");
    }
}
