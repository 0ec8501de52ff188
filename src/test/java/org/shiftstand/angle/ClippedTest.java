package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.ArraySource;
import org.shiftstand.capture.SampleSource;

/** Outputs of a Hall pair that stop at a rail. */
class ClippedTest {
    private static final double RADIUS = 1450;
    private static final double P = 2051;
    private static final double Q = 2103;

    /** Moves of a shaft of about two turns, both ways, with rests; degrees at 512 Hz. */
    private static double[] moves(int moves) {
        double[] angle = new double[moves * 200];
        double at = 0;
        for (int i = 0; i < angle.length; i++) {
            int k = i % 200;
            double top = (i / 200 % 2 == 0 ? 1 : -1) * (9 + i / 200 * 7 % 10 * 0.4);
            at += k < 80 ? top * Math.min(1, Math.min(k, 80 - k) / 12.0) : 0;
            angle[i] = at;
        }
        return angle;
    }

    /** Rounded to counts, and cut at a rail; {@code shown} of the radius is left of a side, 1 shows all. */
    private static ArraySource source(
            double[] angle, double cosHigh, double cosLow, double sinHigh, double sinLow, double noise) {
        var random = new Random(19);
        var pair = HallPair.of(angle, P, Q, 1.03, 3, RADIUS).spoiled(angle, 0.003, RADIUS, 7);
        double[] cos = pair.cos();
        double[] sin = pair.sin();
        for (int i = 0; i < cos.length; i++) {
            double x = cos[i] + noise * random.nextGaussian();
            double y = sin[i] + noise * random.nextGaussian();
            cos[i] = Math.rint(clipped(x, P, RADIUS, cosLow, cosHigh));
            sin[i] = Math.rint(clipped(y, Q, RADIUS / 1.03, sinLow, sinHigh));
        }
        return new ArraySource(HallPair.times(cos.length), sin, cos);
    }

    private static double clipped(double value, double offset, double radius, double low, double high) {
        double most = high < 1 ? offset + high * radius : Double.POSITIVE_INFINITY;
        double least = low < 1 ? offset - low * radius : Double.NEGATIVE_INFINITY;
        return Math.max(least, Math.min(most, value));
    }

    /** Root mean square about their mean of all samples, degrees. */
    private static double error(Decoded track, double[] truth) {
        double sum = 0;
        double squares = 0;
        for (int i = 0; i < truth.length; i++) {
            double error = track.angleDeg[i] - truth[i];
            sum += error;
            squares += error * error;
        }
        return Math.sqrt(squares / truth.length - sum * sum / truth.length / truth.length);
    }

    @ParameterizedTest
    @CsvSource({"0.97, 1, 1, 1", "0.9, 1, 1, 1", "0.9, 0.95, 1, 1", "1, 1, 1, 0.85", "0.8, 0.8, 0.8, 0.8"})
    void the_angle_is_as_good_as_without_to_a_third(double cosHigh, double cosLow, double sinHigh, double sinLow) {
        double[] angle = moves(100);
        var whole = Decoded.of(decode(source(angle, 1, 1, 1, 1, 1)));
        var track = Decoded.of(decode(source(angle, cosHigh, cosLow, sinHigh, sinLow, 1)));

        assertThat(track.correction.rails().isAny()).isTrue();
        assertThat(error(track, angle)).isLessThan(1.33 * error(whole, angle));
        assertThat(track.count(AngleBlock.AMBIGUOUS)).isZero();
        for (byte state : track.state) {
            assertThat(state).isEqualTo(AngleBlock.GOOD);
        }
    }

    @Test
    void the_fit_is_not_bent_by_what_is_clipped() {
        double[] angle = moves(100);
        var c = decode(source(angle, 0.9, 1, 1, 1, 1)).correction();

        assertThat(c.cosOffset()).isCloseTo(P, within(1.5)); // a thousandth of the radius
        assertThat(c.sinOffset()).isCloseTo(Q, within(1.5));
        assertThat(c.phaseDeg()).isCloseTo(3, within(0.1));
        assertThat(c.rails().cosHigh()).isBetween(P + 0.895 * RADIUS, P + 0.9 * RADIUS);
        assertThat(c.rails().cosLow()).isInfinite();
        assertThat(c.rails().sinHigh()).isInfinite();
    }

    @Test
    void uncertainty_is_wider_the_less_an_output_shows() {
        double[] angle = moves(100);
        double all = decode(source(angle, 1, 1, 1, 1, 1)).correction().uncertaintyDeg();

        double half = decode(source(angle, 0.75, 1, 1, 1, 1)).correction().uncertaintyDeg();

        assertThat(half).isCloseTo(all / 0.75, within(0.1 * all));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 1, 3, 6, 10, 20, 40, 80, 150})
    void noise_looks_like_no_rail(double noise) {
        assertThat(decode(source(moves(60), 1, 1, 1, 1, noise)).correction().rails())
                .isEqualTo(Rails.NONE);
    }

    @ParameterizedTest
    @ValueSource(doubles = {5, 20, 60, 1450})
    void a_coarse_converter_looks_like_no_rail(double radius) {
        double[] angle = moves(60);
        var pair = HallPair.of(angle, 128, 128, 1, 0, radius);
        double[] cos = pair.cos();
        double[] sin = pair.sin();
        for (int i = 0; i < cos.length; i++) {
            cos[i] = Math.rint(cos[i]);
            sin[i] = Math.rint(sin[i]);
        }

        assertThat(decode(new ArraySource(HallPair.times(cos.length), sin, cos))
                        .correction()
                        .rails())
                .isEqualTo(Rails.NONE);
    }

    @ParameterizedTest
    @ValueSource(strings = {"a", "b", "c", "d", "e", "f", "g", "h"})
    void the_bench_captures_have_no_rail(String name) {
        var source = BenchCapture.load("bench-" + name).source;

        assertThat(decode(source).correction().rails()).isEqualTo(Rails.NONE);
    }

    private static AngleTrack decode(SampleSource source) {
        return HallDecoder.decode(source, DecodeOptions.fromCapture());
    }
}
