package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What the tracks of the eight bench captures say beside the angle: edges, faults, passes. */
class BenchTrackTest {
    @Nested
    class Edges {
        @ParameterizedTest
        @ValueSource(strings = {"bench-a", "bench-d", "bench-e", "bench-f", "bench-g"})
        void a_capture_that_is_always_sampled_has_none(String name) {
            var track = BenchCapture.load(name).track();

            assertThat(track.edge[0]).isEqualTo(AngleBlock.START);
            assertThat(track.count(AngleBlock.NONE)).isEqualTo(track.size - 1L);
        }

        @Test
        void rows_only_while_powered_make_sensing_windows_while_the_clock_runs() {
            var track = BenchCapture.load("bench-b").track();

            assertThat(track.count(AngleBlock.WINDOW)).isEqualTo(185); // counted in the time column of the file
            assertThat(track.count(AngleBlock.NONE)).isEqualTo(track.size - 186L);
        }

        @Test
        void a_clock_that_stops_between_windows_is_told_at_each() {
            var track = BenchCapture.load("bench-c").track();

            assertThat(track.count(AngleBlock.CLOCK_STOPPED)).isEqualTo(209); // 210 windows
            assertThat(track.count(AngleBlock.NONE)).isEqualTo(track.size - 210L);
        }

        @Test
        void forty_lost_samples_in_motion_are_one_gap() {
            var track = BenchCapture.load("bench-h").track();

            assertThat(track.count(AngleBlock.GAP)).isEqualTo(1);
            assertThat(track.count(AngleBlock.NONE)).isEqualTo(track.size - 2L);
        }
    }

    @Test
    void one_hall_output_at_zero_for_twelve_samples_is_a_sensor_fault_of_twelve_samples() {
        var track = BenchCapture.load("bench-f").track();

        long faults = 0;
        for (byte state : track.state) {
            faults += state == AngleBlock.FAULT ? 1 : 0;
        }
        assertThat(faults).isEqualTo(12);
    }

    @ParameterizedTest
    @ValueSource(strings = {"bench-a", "bench-b", "bench-c", "bench-d", "bench-e", "bench-g", "bench-h"})
    void all_other_samples_are_good(String name) {
        var track = BenchCapture.load(name).track();

        for (byte state : track.state) {
            assertThat(state).isEqualTo(AngleBlock.GOOD);
        }
    }

    /** Bias at most 0.1, standard deviation at most 0.15 degrees; without a clock, by the order of the rests alone. */
    @Test
    void rests_at_the_ends_of_windows_are_true_also_where_the_clock_stops() {
        var capture = BenchCapture.load("bench-c");
        var track = capture.track();
        var truth = new ArrayList<Double>();
        capture.truth.get("shifts").forEach(shift -> {
            if (shift.path("hold_s").asDouble(0) > 0) {
                truth.add(shift.get("plateau_deg").asDouble());
            }
            truth.add(shift.get("landing_deg").asDouble());
        });

        var errors = new ArrayList<Double>();
        for (int i = 1; i <= track.size; i++) {
            if (i == track.size || track.edge[i] == AngleBlock.CLOCK_STOPPED) {
                double[] last = Arrays.copyOfRange(track.angleDeg, i - 10, i);
                Arrays.sort(last);
                errors.add(last[5] - truth.get(errors.size()));
            }
        }

        assertThat(errors).hasSize(truth.size());
        double[] sorted = errors.stream().mapToDouble(e -> e).sorted().toArray();
        double offset = sorted[sorted.length / 2];
        double mean = errors.stream().mapToDouble(e -> e - offset).average().orElseThrow();
        double variance =
                errors.stream().mapToDouble(e -> Math.pow(e - offset - mean, 2)).sum() / (errors.size() - 1);
        assertThat(Math.abs(mean)).isLessThan(0.1);
        assertThat(Math.sqrt(variance)).isLessThan(0.15);
    }

    @Nested
    class Any_pass {
        @ParameterizedTest
        @ValueSource(ints = {1, 7, 1000, 100_000})
        void gives_the_same_track_in_blocks_of(int size) {
            for (String name : new String[] {"bench-b", "bench-f", "bench-h"}) {
                var track = HallDecoder.decode(BenchCapture.load(name).source, DecodeOptions.fromCapture());
                var expected = Decoded.of(track);

                assertSame(Decoded.read(track, track.open(), size), expected, 0);
            }
        }

        @ParameterizedTest
        @ValueSource(strings = {"bench-a", "bench-b", "bench-c", "bench-f", "bench-h"})
        void may_start_later_with_the_same_angles(String name) {
            var track = HallDecoder.decode(BenchCapture.load(name).source, DecodeOptions.fromCapture());
            var expected = Decoded.of(track);

            for (int k = 0; k < 20; k++) {
                double fromS = expected.timeS[(int) ((expected.size - 1L) * k / 19)];
                var later = Decoded.read(track, track.open(fromS), 4096);

                assertThat(later.timeS[0]).isLessThanOrEqualTo(fromS);
                assertSame(later, expected, expected.size - later.size);
            }
            assertThat(Decoded.read(track, track.open(expected.timeS[expected.size - 1]), 4096).size)
                    .isLessThan(expected.size); // that it does start later
        }

        private void assertSame(Decoded actual, Decoded expected, int from) {
            assertThat(actual.size).isEqualTo(expected.size - from);
            assertThat(actual.timeS).isEqualTo(Arrays.copyOfRange(expected.timeS, from, expected.size));
            assertThat(actual.angleDeg).isEqualTo(Arrays.copyOfRange(expected.angleDeg, from, expected.size));
            assertThat(actual.edge).isEqualTo(Arrays.copyOfRange(expected.edge, from, expected.size));
            assertThat(actual.state).isEqualTo(Arrays.copyOfRange(expected.state, from, expected.size));
            assertThat(actual.radius).isEqualTo(Arrays.copyOfRange(expected.radius, from, expected.size));
        }
    }
}
