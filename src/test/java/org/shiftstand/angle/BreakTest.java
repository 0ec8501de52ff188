package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.ArraySource;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleSource;

/** What a break in a run is on the track: a hard cut, the position behind it known modulo a turn. */
class BreakTest {
    private static final int N = 64;
    private static final double INTERVAL = 1 / 512.0;

    /** Two stretches of {@value #N} samples at constant speeds, degrees a sample. */
    private static double[] angles(double speed, double from, double speedBehind) {
        double[] angle = new double[2 * N];
        for (int i = 0; i < N; i++) {
            angle[i] = i * speed;
            angle[N + i] = from + i * speedBehind;
        }
        return angle;
    }

    private static ArraySource broken(double[] angle, double awayS) {
        double[] time = HallPair.times(angle.length);
        for (int i = N; i < time.length; i++) {
            time[i] += awayS;
        }
        var pair = HallPair.of(angle, 2048, 2048, 1, 0, 1400);
        return new ArraySource(time, pair.sin(), pair.cos())
                .interval(INTERVAL)
                .breaks(List.of(new SampleSource.Break(time[N - 1], time[N], "resumed")));
    }

    private static final DecodeOptions STORED = DecodeOptions.calibrated(
            new Correction(2048, 2048, 1, 0, 1400, 0, 0, "calibration", "calibration", 0, 0.01));

    private static Decoded decode(SampleSource source) {
        return Decoded.of(HallDecoder.decode(source, STORED));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, INTERVAL, 0.05, 3600})
    void is_told_on_the_first_sample_behind_it_however_short_it_was(double awayS) {
        var track = decode(broken(angles(0, 100, 0), awayS));

        assertThat(track.edge[N]).isEqualTo(AngleBlock.BREAK);
        assertThat(track.count(AngleBlock.BREAK)).isEqualTo(1);
        assertThat(track.count(AngleBlock.NONE)).isEqualTo(2L * N - 2);
    }

    @Test
    void nothing_is_carried_over_it() {
        double[] fast =
                angles(20, 5 * 360 + 90, 20); // at 10,000 deg/s a gap of 40 ms would be bridged with 400 degrees

        var track = decode(broken(fast, 0.04));

        double last = track.angleDeg[N - 1];
        assertThat(track.angleDeg[N] - last).isBetween(-180.0, 180.0);
        assertThat(track.angleDeg[N]).isCloseTo(3 * 360 + 90, within(1e-4)); // 1260 before it: no other turn is nearer
        assertThat(track.angleDeg[2 * N - 1] - track.angleDeg[N]).isCloseTo((N - 1) * 20, within(1e-4));
    }

    @Test
    void a_sensor_fault_behind_it_makes_no_turn_ambiguous() {
        double[] sin = new double[2 * N];
        double[] cos = new double[2 * N];
        double[] time = HallPair.times(2 * N);
        var pair = HallPair.of(angles(0, 170, 0), 2048, 2048, 1, 0, 1400);
        System.arraycopy(pair.sin(), 0, sin, 0, 2 * N);
        System.arraycopy(pair.cos(), 0, cos, 0, 2 * N);
        Arrays.fill(sin, N, N + 3, 2048);
        Arrays.fill(cos, N, N + 3, 2048);
        var source = new ArraySource(time, sin, cos)
                .interval(INTERVAL)
                .breaks(List.of(new SampleSource.Break(time[N - 1], time[N], "resumed")));

        var track = decode(source);

        assertThat(track.edge[N]).isEqualTo(AngleBlock.BREAK);
        assertThat(track.state[N]).isEqualTo(AngleBlock.FAULT);
        assertThat(track.count(AngleBlock.AMBIGUOUS)).isZero();
        assertThat(track.angleDeg[N + 3]).isCloseTo(170, within(1e-4));
    }

    @Test
    void two_breaks_without_a_sample_between_them_are_one_cut() {
        double[] angle = angles(0, 100, 0);
        var source = broken(angle, 10);
        SampleSource.Break first = source.breaks().get(0);
        source.breaks(List.of(first, new SampleSource.Break(first.fromS(), first.toS(), "again")));

        var track = decode(source);

        assertThat(track.count(AngleBlock.BREAK)).isEqualTo(1);
    }

    @Test
    void samples_before_it_decode_as_if_nothing_followed() {
        double[] angle = angles(7, 12345, -11);
        var whole = decode(broken(angle, 2));
        var pair = HallPair.of(Arrays.copyOf(angle, N), 2048, 2048, 1, 0, 1400);

        var alone = decode(new ArraySource(HallPair.times(N), pair.sin(), pair.cos()).interval(INTERVAL));

        assertThat(Arrays.copyOf(whole.angleDeg, N)).containsExactly(alone.angleDeg);
        assertThat(Arrays.copyOf(whole.edge, N)).containsExactly(alone.edge);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 5, 63, 64, 65, 4096})
    void block_sizes_do_not_matter(int size) {
        var track = HallDecoder.decode(broken(angles(7, 12345, -11), 2), STORED);

        var whole = Decoded.of(track);
        var parts = Decoded.read(track, track.open(), size);

        assertThat(parts.angleDeg).containsExactly(whole.angleDeg);
        assertThat(parts.edge).containsExactly(whole.edge);
    }

    @Test
    void no_stretch_for_the_correction_spans_it() {
        var source = broken(angles(3, 3 * N, 3), 0);
        var block = new SampleBlock(4096);
        try (var reader = source.open()) {
            reader.next(block);
        }

        assertThat(spanning(new Stretches(INTERVAL, List.of()), block)).isPositive();
        assertThat(spanning(new Stretches(INTERVAL, source.breaks()), block)).isZero();
    }

    private static int spanning(Stretches stretches, SampleBlock block) {
        stretches.add(block);
        assertThat(stretches.stretches()).isPositive();
        int spanning = 0;
        for (int s = 0; s < stretches.stretches(); s++) {
            double first = stretches.timeS[s * Stretches.KNOTS];
            double last = stretches.timeS[(s + 1) * Stretches.KNOTS - 1];
            spanning += first < block.timeS[N] && last >= block.timeS[N] ? 1 : 0;
        }
        return spanning;
    }

    @Test
    void whole_turns_may_be_added_behind_it() {
        var track = HallDecoder.decode(broken(angles(0, 100, 0), 2), STORED);
        double boundaryS = track.breaks().get(0).boundaryS();

        var rebased = Decoded.of(track.rebased(List.of(new AngleTrack.Rebase(boundaryS, -3))));

        assertThat(rebased.angleDeg[N - 1]).isCloseTo(0, within(1e-4));
        assertThat(rebased.angleDeg[N]).isCloseTo(100 - 3 * 360, within(1e-4));
        assertThat(rebased.angleDeg[2 * N - 1]).isCloseTo(100 - 3 * 360, within(1e-4));
    }
}
