package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.capture.ArraySource;

/** From a Hall pair to angles: which correction is used, and what it leaves. */
class HallDecoderTest {
    private static final double P = 2051;
    private static final double Q = 2103;
    private static final double R = 1.07;
    private static final double PHASE = -4;
    private static final double RADIUS = 1450;

    /** Sweeps of a shaft: {@code moves} trapezoids of about two turns, both ways, with rests; degrees at 512 Hz. */
    private static double[] sweeps(int moves, long seed) {
        var random = new Random(seed);
        double[] angle = new double[moves * 200];
        double at = 0;
        for (int i = 0; i < angle.length; i++) {
            int k = i % 200;
            int move = i / 200;
            double size = 0.9 + 0.2 * ((move * 7) % 10) / 10.0;
            double speed = k < 70 ? 13 * size * Math.min(1, Math.min(k, 70 - k) / 12.0) : 0;
            at += (move % 2 == 0 ? speed : -speed) + (k == 0 ? random.nextDouble() * 20 : 0);
            angle[i] = at;
        }
        return angle;
    }

    /** Gain and phase right, so that a third harmonic h gives 2 h sin 2φ: h itself, and h for the gain the fit believes. */
    private static ArraySource source(double[] angle, double third) {
        var pair = HallPair.of(angle, P, Q, 1, 0, RADIUS).spoiled(angle, third, RADIUS, 11);
        return new ArraySource(HallPair.times(angle.length), pair.sin(), pair.cos());
    }

    /** Errors of the samples at rest, their mean taken out: root mean square. */
    private static double errorAtRest(Decoded track, double[] truth) {
        double sum = 0;
        double squares = 0;
        int n = 0;
        for (int i = 0; i < truth.length; i++) {
            if (i % 200 > 80) {
                double error = track.angleDeg[i] - truth[i];
                sum += error;
                squares += error * error;
                n++;
            }
        }
        return Math.sqrt(squares / n - sum * sum / n / n);
    }

    @Nested
    class The_second_order_term {
        @Test
        void of_a_third_harmonic_is_found_and_taken_out() {
            double[] angle = sweeps(60, 1);

            var track = Decoded.of(HallDecoder.decode(source(angle, 0.004), DecodeOptions.fromCapture()));

            assertThat(track.correction.secondOrderFrom()).isEqualTo("fit");
            assertThat(track.correction.sin2Deg()).isCloseTo(Math.toDegrees(0.008), within(0.03));
            assertThat(errorAtRest(track, angle)).isLessThan(0.1); // noise of one sample is 0.05
            assertThat(track.correction.uncertaintyDeg()).isBetween(0.04, 0.15);
            assertThat(track.correction.residualDeg()).isLessThan(0.2);
        }

        @Test
        void is_near_zero_without_harmonics() {
            var track = HallDecoder.decode(source(sweeps(60, 2), 0), DecodeOptions.fromCapture());

            assertThat(track.correction().secondOrderFrom()).isEqualTo("fit");
            assertThat(track.correction().sin2Deg()).isCloseTo(0, within(0.02));
            assertThat(track.correction().cos2Deg()).isCloseTo(0, within(0.02));
        }

        @Test
        void of_a_long_run_comes_from_a_bounded_selection() {
            double[] angle = sweeps(3000, 1); // more stretches and samples than are kept

            var correction = HallDecoder.decode(source(angle, 0.004), DecodeOptions.fromCapture())
                    .correction();

            assertThat(correction.secondOrderFrom()).isEqualTo("fit");
            assertThat(correction.sin2Deg()).isCloseTo(Math.toDegrees(0.008), within(0.03));
            assertThat(correction.cosOffset()).isCloseTo(P, within(0.2));
        }

        @Test
        void is_none_where_the_shaft_hardly_moved_and_the_uncertainty_is_half_a_degree() {
            var correction = HallDecoder.decode(source(sweeps(3, 3), 0.004), DecodeOptions.fromCapture())
                    .correction();

            assertThat(correction.ellipseFrom()).isEqualTo("fit");
            assertThat(correction.secondOrderFrom()).isEqualTo("none");
            assertThat(correction.sin2Deg()).isZero();
            assertThat(correction.cos2Deg()).isZero();
            assertThat(correction.uncertaintyDeg()).isEqualTo(0.5);
            assertThat(correction.residualDeg()).isNaN();
        }

        @Test
        void is_none_where_the_speed_is_never_near_constant() {
            double[] angle = new double[20_000];
            for (int i = 0; i < angle.length; i++) {
                angle[i] = 150 * Math.sin(i * 0.1); // turns back before it has made a turn
            }

            assertThat(HallDecoder.decode(source(angle, 0.004), DecodeOptions.fromCapture())
                            .correction()
                            .secondOrderFrom())
                    .isEqualTo("none");
        }

        @Test
        void is_found_at_four_kilohertz_as_well() {
            double[] slow = sweeps(60, 1);
            double[] angle = new double[(slow.length - 1) * 8];
            double[] time = new double[angle.length];
            for (int i = 0; i < angle.length; i++) {
                int k = i / 8;
                angle[i] = slow[k] + (slow[k + 1] - slow[k]) * (i % 8) / 8.0;
                time[i] = i / 4096.0;
            }
            var pair = HallPair.of(angle, P, Q, 1, 0, RADIUS).spoiled(angle, 0.004, RADIUS, 11);

            var correction = HallDecoder.decode(
                            new ArraySource(time, pair.sin(), pair.cos()), DecodeOptions.fromCapture())
                    .correction();

            assertThat(correction.secondOrderFrom()).isEqualTo("fit");
            assertThat(correction.sin2Deg()).isCloseTo(Math.toDegrees(0.008), within(0.03));
        }
    }

    @Nested
    class The_correction {
        @Test
        void of_a_calibration_is_used_as_it_is() {
            double[] angle = sweeps(4, 5);
            var stored = new Correction(P, Q, R, PHASE, RADIUS, 0.1, -0.2, "calibration", "calibration", 0.3, 0.07);

            var track = HallDecoder.decode(source(angle, 0), DecodeOptions.calibrated(stored));

            assertThat(track.correction()).isEqualTo(stored);
        }

        @Test
        void undoes_any_distortion() {
            for (int seed = 0; seed < 50; seed++) {
                var random = new Random(seed);
                double[] angle = sweeps(10, seed);
                var pair = HallPair.of(
                        angle,
                        2000 + 100 * random.nextDouble(),
                        2000 + 100 * random.nextDouble(),
                        0.8 + 0.4 * random.nextDouble(),
                        10 * random.nextDouble() - 5,
                        1300);
                var source = new ArraySource(HallPair.times(angle.length), pair.sin(), pair.cos());

                var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.fromCapture()));

                double offset = track.angleDeg[0] - angle[0];
                for (int i = 0; i < angle.length; i++) {
                    if (!(Math.abs(track.angleDeg[i] - offset - angle[i]) < 0.1)) { // the promised bias
                        throw new AssertionError("seed " + seed + " sample " + i + ": " + (track.angleDeg[i] - offset)
                                + " is not " + angle[i]);
                    }
                }
            }
        }

        @Test
        void counts_powered_samples_only() {
            double[] angle = sweeps(30, 6);
            var pair = HallPair.of(angle, P, Q, R, PHASE, RADIUS);
            boolean[] powered = new boolean[angle.length];
            for (int i = 0; i < angle.length; i++) {
                powered[i] = i % 200 < 150;
                if (!powered[i]) {
                    pair.cos()[i] = 3; // outputs of sensors that are off
                    pair.sin()[i] = 5;
                }
            }
            var source = new ArraySource(HallPair.times(angle.length), pair.sin(), pair.cos()).powered(powered);

            var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.fromCapture()));

            assertThat(track.correction.cosOffset()).isCloseTo(P, within(0.01));
            assertThat(track.correction.sinOffset()).isCloseTo(Q, within(0.01));
            for (int i = 0; i < angle.length; i++) {
                assertThat(track.state[i]).isEqualTo(powered[i] ? AngleBlock.GOOD : AngleBlock.OFF);
            }
        }

        @Test
        void is_nominal_where_the_shaft_never_turned() {
            double[] still = new double[1000];
            Arrays.fill(still, 40);

            var correction = HallDecoder.decode(source(still, 0), DecodeOptions.fromCapture())
                    .correction();

            assertThat(correction.uncertaintyDeg()).isEqualTo(0.5);
            assertThat(correction.secondOrderFrom()).isEqualTo("none");
        }

        @Test
        void of_an_empty_source_gives_an_empty_track() {
            var empty = new ArraySource(new double[0], new double[0], new double[0]);

            assertThat(Decoded.of(HallDecoder.decode(empty, DecodeOptions.fromCapture())).size)
                    .isZero();
        }
    }

    /** Two shifts in four seconds at 50 kHz: nine tenths of the samples are of three rests. */
    @Nested
    class A_short_capture_at_a_high_rate {
        private static final int N = 200_000;
        private static final double RATE = 50_000;

        private double[] angle() {
            double[] angle = new double[N];
            double at = 40;
            for (int i = 0; i < N; i++) {
                double t = i / RATE;
                boolean first = t >= 0.5 && t < 0.7;
                boolean second = t >= 2.5 && t < 2.7;
                at += first ? 3500 / RATE : second ? -3500 / RATE : 0;
                angle[i] = at;
            }
            return angle;
        }

        @Test
        void is_fitted_by_its_motion_not_by_the_noise_of_a_rest() {
            for (int seed = 1; seed <= 5; seed++) {
                double[] angle = angle();
                Random random = new Random(seed);
                var pair = HallPair.of(angle, P, Q, R, PHASE, RADIUS);
                double[] sin = pair.sin().clone();
                double[] cos = pair.cos().clone();
                double[] time = new double[N];
                for (int i = 0; i < N; i++) {
                    time[i] = i / RATE;
                    sin[i] = Math.rint(sin[i] + 1.5 * random.nextGaussian());
                    cos[i] = Math.rint(cos[i] + 1.5 * random.nextGaussian());
                }
                Decoded track =
                        Decoded.of(HallDecoder.decode(new ArraySource(time, sin, cos), DecodeOptions.fromCapture()));

                assertThat(track.angleDeg[N / 2] - track.angleDeg[0])
                        .as("seed %d", seed)
                        .isCloseTo(700, within(1.0));
            }
        }
    }
}
