package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.capture.ArraySource;

/** Mains hum on both outputs alike: what accuracy remains, and that it is stated. */
class MainsHumTest {
    private static final double RADIUS = 1450;
    private static final double MOVE_S = 0.4;

    private final double hertz = 512;
    private final int move = (int) (MOVE_S * hertz);

    /** Moves of about two turns both ways in 0.16 s, and rests of 0.24 s; degrees. */
    private double[] moves() {
        double[] angle = new double[100 * move];
        double at = 0;
        for (int i = 0; i < angle.length; i++) {
            int k = i % move;
            double top = (i / move % 2 == 0 ? 1 : -1) * (9 + i / move * 7 % 10 * 0.4);
            at += k < 80 ? top * Math.min(1, Math.min(k, 80 - k) / 12.0) : 0;
            angle[i] = at;
        }
        return angle;
    }

    private Decoded decoded(double[] angle, double mainsHz, double part) {
        var random = new Random(3);
        var pair = HallPair.of(angle, 2051, 2103, 1.03, 3, RADIUS);
        double[] cos = pair.cos();
        double[] sin = pair.sin();
        for (int i = 0; i < cos.length; i++) {
            double hum = part * RADIUS * Math.sin(2 * Math.PI * mainsHz * i / hertz + 0.3);
            cos[i] = Math.rint(cos[i] + hum + random.nextGaussian());
            sin[i] = Math.rint(sin[i] + hum + random.nextGaussian());
        }
        return Decoded.of(
                HallDecoder.decode(new ArraySource(HallPair.times(cos.length), sin, cos), DecodeOptions.fromCapture()));
    }

    private static double deviation(double[] errors) {
        double mean = Arrays.stream(errors).average().orElseThrow();
        return Math.sqrt(Arrays.stream(errors)
                .map(e -> (e - mean) * (e - mean))
                .average()
                .orElseThrow());
    }

    private double ofSamples(Decoded track, double[] angle) {
        double[] errors = new double[angle.length];
        for (int i = 0; i < errors.length; i++) {
            errors[i] = track.angleDeg[i] - angle[i];
        }
        return deviation(errors);
    }

    /** Of medians over the last 0.2 s of each rest. */
    private double ofRests(Decoded track, double[] angle) {
        double[] errors = new double[angle.length / move];
        for (int r = 0; r < errors.length; r++) {
            double[] rest = Arrays.copyOfRange(track.angleDeg, r * move + move / 2, (r + 1) * move);
            Arrays.sort(rest);
            errors[r] = rest[rest.length / 2] - angle[(r + 1) * move - 1];
        }
        return deviation(errors);
    }

    @ParameterizedTest
    @CsvSource({"50, 0.005", "50, 0.01", "50, 0.02", "60, 0.005", "60, 0.01", "60, 0.02"})
    void one_sample_is_off_by_the_hum_which_the_uncertainty_states_and_a_rest_by_a_tenth(double mainsHz, double part) {
        double[] angle = moves();
        double hum = Math.toDegrees(part) / Math.sqrt(2); // of a sine across a circle, either way round

        var track = decoded(angle, mainsHz, part);

        assertThat(ofSamples(track, angle)).isCloseTo(hum, within(0.1 * hum));
        assertThat(track.correction.uncertaintyDeg()).isCloseTo(hum, within(0.15 * hum));
        assertThat(ofRests(track, angle)).isLessThan(0.1 * hum);
        assertThat(track.correction.secondOrderFrom()).isEqualTo("fit");
        assertThat(track.correction.rails()).isEqualTo(Rails.NONE);
    }
}
