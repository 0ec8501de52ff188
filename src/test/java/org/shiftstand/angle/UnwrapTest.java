package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.shiftstand.capture.ArraySource;
import tools.jackson.databind.JsonNode;

/** Unwrapping, and what is not decided but flagged. */
class UnwrapTest {
    /** A perfect pair of radius 1 around 0. */
    private static final Correction PERFECT =
            new Correction(0, 0, 1, 0, 1, 0, 0, "calibration", "calibration", 0, 0.01);

    private static Decoded decode(double[] timeS, double... angleDeg) {
        var pair = HallPair.of(angleDeg, 0, 0, 1, 0, 1);
        var source = new ArraySource(timeS, pair.sin(), pair.cos()).interval(1 / 512.0);
        return Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));
    }

    private static Decoded decode(double... angleDeg) {
        return decode(HallPair.times(angleDeg.length), angleDeg);
    }

    /** REF-ANG-01: sampling theorem (Shannon 1949) applied to a phase; computed. */
    @Nested
    class On_the_reference_cases {
        private final JsonNode cases = ReferenceTable.json("unwrap_cases.json").get("cases");

        @TestFactory
        Stream<DynamicTest> angles_are_as_expected() {
            return cases.valueStream()
                    .filter(c -> c.has("expected_unwrapped"))
                    .map(c -> DynamicTest.dynamicTest(c.get("name").asString(), () -> {
                        double[] expected = numbers(c.get("expected_unwrapped"));

                        double[] angle = decode(numbers(c.get("angles_wrapped"))).angleDeg;

                        for (int i = 0; i < expected.length; i++) {
                            assertThat(angle[i]).isCloseTo(expected[i], within(1e-9));
                        }
                    }));
        }

        @Test
        void two_hundred_degrees_a_sample_is_flagged_at_every_step() {
            byte[] edge = decode(numbers(named("too fast").get("angles_wrapped"))).edge;

            assertThat(edge)
                    .containsExactly(
                            AngleBlock.START, AngleBlock.AMBIGUOUS, AngleBlock.AMBIGUOUS, AngleBlock.AMBIGUOUS);
        }

        @Test
        void exactly_half_a_turn_is_flagged() {
            assertThat(decode(numbers(named("exactly 180").get("angles_wrapped"))).edge)
                    .containsExactly(AngleBlock.START, AngleBlock.AMBIGUOUS);
        }

        @Test
        void a_speed_that_grows_from_sample_to_sample_is_not_flagged() {
            assertThat(decode(numbers(named("backward through").get("angles_wrapped"))).edge)
                    .containsExactly(AngleBlock.START, 0, 0, 0, 0, 0, 0);
        }

        private JsonNode named(String start) {
            return cases.valueStream()
                    .filter(c -> c.get("name").asString().startsWith(start))
                    .findFirst()
                    .orElseThrow();
        }

        private static double[] numbers(JsonNode array) {
            return array.valueStream().mapToDouble(JsonNode::asDouble).toArray();
        }
    }

    /** REF-ANG-02: computed; readings carry nine decimals, 1e-9 rad or 6e-8 degrees. */
    @Test
    void a_long_series_with_a_reversal_is_followed() {
        var table = ReferenceTable.csv("unwrap_series.csv");
        double[] truth = table.column("true_angle_deg");
        var source = new ArraySource(table.column("time_s"), table.column("sin"), table.column("cos"));

        var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));

        assertThat(track.size).isEqualTo(truth.length);
        for (int i = 0; i < truth.length; i++) {
            assertThat(track.angleDeg[i]).isCloseTo(truth[i], within(1e-6)); // truth has six decimals
        }
        assertThat(track.count(AngleBlock.NONE)).isEqualTo(truth.length - 1L);
    }

    /** The same series without a calibration: the fit finds a perfect pair and the angles stay. */
    @Test
    void a_long_series_fits_its_own_correction() {
        var table = ReferenceTable.csv("unwrap_series.csv");
        double[] truth = table.column("true_angle_deg");
        var source = new ArraySource(table.column("time_s"), table.column("sin"), table.column("cos"));

        var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.fromCapture()));

        double offset = track.angleDeg[0] - truth[0];
        for (int i = 0; i < truth.length; i++) {
            assertThat(track.angleDeg[i] - offset).isCloseTo(truth[i], within(1e-5));
        }
    }

    @Test
    void any_motion_below_the_bound_is_followed_exactly() {
        for (int seed = 0; seed < 200; seed++) {
            var random = new Random(seed);
            double[] truth = new double[500];
            double speed = 0;
            truth[0] = 360 * random.nextDouble() - 180;
            for (int i = 1; i < truth.length; i++) {
                // up to 150 degrees a sample, changing by at most 40: a fast but real shaft
                speed = Math.max(-150, Math.min(150, speed + 80 * random.nextDouble() - 40));
                truth[i] = truth[i - 1] + speed;
            }

            var track = decode(truth);

            assertThat(track.count(AngleBlock.NONE)).as("seed %d", seed).isEqualTo(499);
            for (int i = 0; i < truth.length; i++) {
                assertThat(track.angleDeg[i]).as("seed %d sample %d", seed, i).isCloseTo(truth[i], within(1e-6));
            }
        }
    }

    @Test
    void a_gap_in_motion_is_bridged_by_the_speeds_on_its_sides() {
        double[] truth = new double[60];
        double[] time = new double[60];
        for (int i = 0; i < 60; i++) {
            int sample = i < 30 ? i : i + 40; // 40 samples of 13 degrees: 520 degrees, more than a turn
            time[i] = sample / 512.0;
            truth[i] = 13.0 * sample;
        }

        var track = decode(time, truth);

        assertThat(track.edge[30]).isEqualTo(AngleBlock.GAP);
        assertThat(track.angleDeg[59]).isCloseTo(truth[59], within(1e-6));
    }

    @Nested
    class After_a_sensor_fault {
        /** Constant speed; the pair reads nothing in between. */
        private Decoded decode(double degPerSample, int faulty) {
            double[] truth = new double[60 + faulty];
            for (int i = 0; i < truth.length; i++) {
                truth[i] = degPerSample * i;
            }
            var pair = HallPair.of(truth, 0, 0, 1, 0, 1);
            Arrays.fill(pair.cos(), 30, 30 + faulty, 5);
            var source = new ArraySource(HallPair.times(truth.length), pair.sin(), pair.cos());
            return Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));
        }

        @Test
        void in_motion_the_speeds_on_its_sides_tell_the_turn() {
            var track = decode(13, 40);

            assertThat(track.state[29]).isEqualTo(AngleBlock.GOOD);
            assertThat(track.state[30]).isEqualTo(AngleBlock.FAULT);
            assertThat(track.angleDeg[50]).isEqualTo(track.angleDeg[29]); // repeats the last good one
            assertThat(track.state[70]).isEqualTo(AngleBlock.GOOD);
            assertThat(track.edge[70]).isEqualTo(AngleBlock.NONE);
            assertThat(track.angleDeg[99]).isCloseTo(13.0 * 99, within(1e-6));
        }

        @Test
        void long_and_in_motion_the_turn_is_not_known() {
            assertThat(decode(13, 200).edge[230]).isEqualTo(AngleBlock.AMBIGUOUS);
        }

        @Test
        void at_rest_the_turn_is_known_however_long_it_was() {
            var track = decode(0, 1000);

            assertThat(track.edge[1030]).isEqualTo(AngleBlock.NONE);
            assertThat(track.angleDeg[1059]).isCloseTo(0, within(1e-9));
        }
    }

    @Test
    void missing_rows_after_a_rest_are_a_sensing_window() {
        double[] time = HallPair.times(60);
        for (int i = 30; i < 60; i++) {
            time[i] += 0.4;
        }

        var track = decode(time, new double[60]);

        assertThat(track.edge[30]).isEqualTo(AngleBlock.WINDOW);
        assertThat(track.count(AngleBlock.NONE)).isEqualTo(58);
    }

    @Test
    void a_short_loss_at_rest_is_a_gap() {
        double[] time = HallPair.times(60);
        for (int i = 30; i < 60; i++) {
            time[i] += 3 / 512.0;
        }

        assertThat(decode(time, new double[60]).edge[30]).isEqualTo(AngleBlock.GAP);
    }

    @Test
    void missing_rows_at_rest_are_a_gap_where_unpowered_rows_are_recorded() {
        double[] time = HallPair.times(60);
        for (int i = 30; i < 60; i++) {
            time[i] += 0.4;
        }
        boolean[] powered = new boolean[60];
        Arrays.fill(powered, 10, 20, true);
        var pair = HallPair.of(new double[60], 0, 0, 1, 0, 1);
        var source = new ArraySource(time, pair.sin(), pair.cos())
                .interval(1 / 512.0)
                .powered(powered);

        var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));

        assertThat(track.edge[30]).isEqualTo(AngleBlock.GAP);
        assertThat(track.count(AngleBlock.NONE)).isEqualTo(58);
    }

    @Test
    void a_window_that_follows_at_once_says_that_the_clock_stopped() {
        int[] window = new int[60];
        Arrays.fill(window, 20, 40, 1);
        Arrays.fill(window, 40, 60, 2);
        double[] time = HallPair.times(60);
        for (int i = 40; i < 60; i++) {
            time[i] += 1;
        }
        double[] truth = new double[60];
        Arrays.fill(truth, 20, 60, 170); // moved while the sensors were off
        var pair = HallPair.of(truth, 0, 0, 1, 0, 1);
        var source = new ArraySource(time, pair.sin(), pair.cos())
                .interval(1 / 512.0)
                .window(window);

        var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));

        assertThat(track.edge[20]).isEqualTo(AngleBlock.CLOCK_STOPPED);
        assertThat(track.edge[40]).isEqualTo(AngleBlock.WINDOW);
        assertThat(track.angleDeg[20]).isCloseTo(170, within(1e-9));
    }

    @Test
    void between_windows_the_smallest_motion_is_taken() {
        int[] window = new int[40];
        Arrays.fill(window, 20, 40, 1);
        double[] truth = new double[40];
        Arrays.fill(truth, 20, 40, 300);
        var pair = HallPair.of(truth, 0, 0, 1, 0, 1);
        var source = new ArraySource(HallPair.times(40), pair.sin(), pair.cos()).window(window);

        var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));

        assertThat(track.angleDeg[39]).isCloseTo(-60, within(1e-9));
    }

    @Test
    void sensors_that_are_off_give_no_angle_and_open_a_window_when_they_come_back() {
        boolean[] powered = new boolean[60];
        Arrays.fill(powered, 0, 20, true);
        Arrays.fill(powered, 40, 60, true);
        var pair = HallPair.of(new double[60], 0, 0, 1, 0, 1);
        Arrays.fill(pair.cos(), 20, 40, 0.01);
        Arrays.fill(pair.sin(), 20, 40, 0.01);
        var source = new ArraySource(HallPair.times(60), pair.sin(), pair.cos()).powered(powered);

        var track = Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT)));

        assertThat(track.state[19]).isEqualTo(AngleBlock.GOOD);
        assertThat(track.state[20]).isEqualTo(AngleBlock.OFF);
        assertThat(track.state[40]).isEqualTo(AngleBlock.GOOD);
        assertThat(track.edge[40]).isEqualTo(AngleBlock.WINDOW);
        assertThat(track.count(AngleBlock.NONE)).isEqualTo(58);
    }

    @Test
    void a_loss_that_the_source_knows_is_a_gap() {
        double[] time = HallPair.times(60);
        for (int i = 30; i < 60; i++) {
            time[i] += 0.4;
        }
        var pair = HallPair.of(new double[60], 0, 0, 1, 0, 1);
        var source = new ArraySource(time, pair.sin(), pair.cos())
                .interval(1 / 512.0)
                .gaps(java.util.List.of(
                        new org.shiftstand.capture.SampleSource.Gap(time[29], time[30], 205, "lost block")));

        assertThat(Decoded.of(HallDecoder.decode(source, DecodeOptions.calibrated(PERFECT))).edge[30])
                .isEqualTo(AngleBlock.GAP);
    }
}
