package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.ArraySource;

/**
 * A logger that hangs repeats a pair of readings to the last digit. Made-up pair, centre 2048, radius 1200, whole counts; the
 * shaft turns for a second and rests for a second.
 */
class FrozenSamplesTest {
    private static final int N = 30_000;
    private static final double INTERVAL_S = 1 / 512.0;
    private static final int FROM = 12_100;
    private static final int TO = 12_600;

    private final double[] time = new double[N];
    private final double[] sin = new double[N];
    private final double[] cos = new double[N];

    /** @param noise standard deviation, counts */
    private void record(double noise) {
        Random random = new Random(1);
        double phi = 0;
        for (int i = 0; i < N; i++) {
            phi += i / 512 % 2 == 0 ? 2.5 : 0;
            time[i] = i * INTERVAL_S;
            sin[i] = Math.rint(2048 + 1200 * Math.sin(Math.toRadians(phi)) + noise * random.nextGaussian());
            cos[i] = Math.rint(2048 + 1200 * Math.cos(Math.toRadians(phi)) + noise * random.nextGaussian());
        }
    }

    private void freeze(int from, int to) {
        Arrays.fill(sin, from, to, sin[from]);
        Arrays.fill(cos, from, to, cos[from]);
    }

    private AngleTrack track() {
        return HallDecoder.decode(new ArraySource(time, sin, cos), DecodeOptions.fromCapture());
    }

    private static int faults(Decoded track, int from, int to) {
        int faults = 0;
        for (int i = from; i < to; i++) {
            faults += track.state[i] == AngleBlock.FAULT ? 1 : 0;
        }
        return faults;
    }

    @Test
    void are_faults_from_the_thirty_third_on_where_noise_leaves_no_rest_alike() {
        record(3);
        freeze(FROM, TO);

        Decoded track = Decoded.of(track());

        assertThat(faults(track, 0, N)).isEqualTo(TO - FROM - 32);
        assertThat(faults(track, FROM + 32, TO)).isEqualTo(TO - FROM - 32);
    }

    @Test
    void are_not_told_from_rests_that_are_alike() {
        record(0);
        freeze(FROM, TO);

        assertThat(faults(Decoded.of(track()), 0, N)).isZero();
    }

    @Test
    void are_not_told_where_a_logger_holds_values_while_the_shaft_rests() {
        record(3);
        for (int i = 512; i < N; i += 1024) {
            freeze(i, Math.min(N, i + 512));
        }

        assertThat(faults(Decoded.of(track()), 0, N)).isZero();
    }

    @Test
    void are_not_told_where_a_logger_is_quicker_than_its_converter() {
        record(3);
        for (int i = 0; i < N; i++) {
            sin[i] = sin[i - i % 4];
            cos[i] = cos[i - i % 4];
        }
        freeze(FROM, TO);

        assertThat(faults(Decoded.of(track()), 0, N)).isZero();
    }

    @Test
    void say_that_the_turn_is_not_known_behind_them() {
        record(3);
        freeze(FROM, TO); // the shaft turns by three turns and more the while

        Decoded track = Decoded.of(track());

        assertThat(track.edge[TO]).isEqualTo(AngleBlock.AMBIGUOUS);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 31, 977, 4096})
    void are_the_same_in_blocks_of_any_size_and_from_any_place(int block) {
        record(3);
        freeze(8_000, 13_000); // a pass may begin again inside
        AngleTrack track = track();
        Decoded whole = Decoded.of(track);

        Decoded odd = Decoded.read(track, track.open(), block);
        Decoded late = Decoded.read(track, track.open(time[13_100]), 4096);

        assertThat(odd.state).isEqualTo(whole.state);
        assertThat(late.state).isEqualTo(Arrays.copyOfRange(whole.state, N - late.size, N));
        assertThat(late.angleDeg).isEqualTo(Arrays.copyOfRange(whole.angleDeg, N - late.size, N));
        assertThat(N - late.size).isBetween(8_032, 12_968);
    }
}
