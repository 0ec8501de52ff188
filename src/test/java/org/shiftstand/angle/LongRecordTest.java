package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.capture.ArraySource;

/** Harmonics beyond the second order: learned from long records only, and only where they gain something. */
class LongRecordTest {
    private static final double RADIUS = 1450;
    private static final long SEED = 41;

    /** Moves of some two turns both ways, with speeds that differ from move to move, and rests; degrees at 512 Hz. */
    private static double[] moves(int moves) {
        var random = new Random(SEED);
        double[] angle = new double[moves * 200];
        double at = 0;
        for (int move = 0; move < moves; move++) {
            double top = (move % 2 == 0 ? 1 : -1) * (9 + 4 * random.nextDouble());
            for (int k = 0; k < 200; k++) {
                at += k < 80 ? top * Math.min(1, Math.min(k, 80 - k) / 12.0) : 0;
                angle[move * 200 + k] = at;
            }
        }
        return angle;
    }

    /** A pair whose fourth and fifth harmonics, parts of the fundamental, make angle errors of the orders 3 and 4. */
    private static ArraySource source(double[] angle, double third, double fourth, double fifth) {
        var random = new Random(SEED + 1);
        var pair = HallPair.of(angle, 2051, 2103, 1, 0, RADIUS);
        double[] cos = new double[angle.length];
        double[] sin = new double[angle.length];
        for (int i = 0; i < angle.length; i++) {
            double a = Math.toRadians(angle[i]);
            double c = third * Math.cos(3 * a) + fourth * Math.cos(4 * a + 0.7) + fifth * Math.cos(5 * a - 0.4);
            double s = third * Math.sin(3 * a) + fourth * Math.sin(4 * a + 0.7) + fifth * Math.sin(5 * a - 0.4);
            cos[i] = Math.rint(pair.cos()[i] + RADIUS * c + 2 * random.nextGaussian());
            sin[i] = Math.rint(pair.sin()[i] + RADIUS * s + 2 * random.nextGaussian());
        }
        return new ArraySource(HallPair.times(angle.length), sin, cos);
    }

    /** Of the means of the rests, which noise hardly touches: root mean square about their mean. */
    private static double errorAtRest(Decoded track, double[] truth) {
        int rests = truth.length / 200;
        double sum = 0;
        double squares = 0;
        for (int rest = 0; rest < rests; rest++) {
            double error = 0;
            for (int k = 90; k < 200; k++) {
                error += (track.angleDeg[rest * 200 + k] - truth[rest * 200 + k]) / 110;
            }
            sum += error;
            squares += error * error;
        }
        return Math.sqrt(squares / rests - sum * sum / rests / rests);
    }

    private static Correction secondOrderOnly(Correction c) {
        return new Correction(
                c.cosOffset(),
                c.sinOffset(),
                c.gainRatio(),
                c.phaseDeg(),
                c.radius(),
                c.sin2Deg(),
                c.cos2Deg(),
                c.ellipseFrom(),
                c.secondOrderFrom(),
                c.residualDeg(),
                c.uncertaintyDeg());
    }

    @Nested
    class A_long_record_with_fourth_and_fifth_harmonics {
        private final double[] angle = moves(1000);
        private final ArraySource source = source(angle, 0.004, 0.005, 0.003);
        private final AngleTrack track = HallDecoder.decode(source, DecodeOptions.fromCapture());

        @Test
        void gives_them_as_terms_of_the_orders_3_and_4() {
            HigherOrder higher = track.correction().higher();

            assertThat(higher.isLearned()).isTrue();
            assertThat(Math.hypot(higher.sin3Deg(), higher.cos3Deg())).isCloseTo(Math.toDegrees(0.005), within(0.02));
            assertThat(Math.hypot(higher.sin4Deg(), higher.cos4Deg())).isCloseTo(Math.toDegrees(0.003), within(0.02));
        }

        @Test
        void is_decoded_several_times_better_than_by_the_second_order_alone() {
            var plain = HallDecoder.decode(source, DecodeOptions.calibrated(secondOrderOnly(track.correction())));

            double before = errorAtRest(Decoded.of(plain), angle);
            double after = errorAtRest(Decoded.of(track), angle);

            assertThat(before).isGreaterThan(0.2); // sqrt((0.286² + 0.172²) / 2) = 0.236
            assertThat(after).isLessThan(0.03);
        }

        @Test
        void says_the_residual_before_and_after_on_stretches_held_out() {
            HigherOrder higher = track.correction().higher();

            assertThat(higher.residualBeforeDeg()).isGreaterThan(1.5 * higher.residualAfterDeg());
            // 2 counts and rounding on 1450: 0.08 degrees
            assertThat(higher.residualAfterDeg()).isCloseTo(Math.toDegrees(2.02 / RADIUS), within(0.02));
        }
    }

    @Test
    void a_long_record_without_them_is_decoded_by_the_second_order_alone() {
        var track = HallDecoder.decode(source(moves(1000), 0.004, 0, 0), DecodeOptions.fromCapture());

        assertThat(track.correction().secondOrderFrom()).isEqualTo("fit");
        assertThat(track.correction().higher()).isEqualTo(HigherOrder.NONE);
    }

    @Test
    void a_short_record_learns_none_however_large_they_are() {
        var track = HallDecoder.decode(source(moves(120), 0.004, 0.005, 0.003), DecodeOptions.fromCapture());

        assertThat(track.correction().secondOrderFrom()).isEqualTo("fit");
        assertThat(track.correction().higher()).isEqualTo(HigherOrder.NONE);
    }
}
