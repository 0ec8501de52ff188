package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.capture.ArraySource;

/** Offsets of the Hall pair that drift over hours. */
class OffsetDriftTest {
    private static final double HZ = 64;
    private static final double RADIUS = 1450;
    private static final int MOVE = 960;
    private static final long SEED = 51;

    /** A move of two turns every 15 s, both ways; degrees. */
    private static double[] moves(double hours) {
        double[] angle = new double[(int) (hours * 3600 * HZ)];
        double at = 0;
        for (int i = 0; i < angle.length; i++) {
            int k = i % MOVE;
            int move = i / MOVE;
            double top = (move % 2 == 0 ? 1 : -1) * (11 + move * 7 % 10 * 0.2);
            at += k < 80 ? top * Math.min(1, Math.min(k, 80 - k) / 12.0) : 0;
            angle[i] = at;
        }
        return angle;
    }

    /**
     * At 64 Hz.
     *
     * @param drift of the cosine's offset over the record, a part of the radius; the sine's swings out by half of it
     */
    private static ArraySource source(double[] angle, double drift, double noise) {
        var random = new Random(SEED);
        var pair = HallPair.of(angle, 2051, 2103, 1.04, 2, RADIUS);
        double[] time = new double[angle.length];
        double[] cos = new double[angle.length];
        double[] sin = new double[angle.length];
        for (int i = 0; i < angle.length; i++) {
            double part = (double) i / angle.length;
            time[i] = i / HZ;
            cos[i] = pair.cos()[i] + drift * RADIUS * part + noise * random.nextGaussian();
            sin[i] = pair.sin()[i] - drift * RADIUS * Math.sin(Math.PI * part) / 2 + noise * random.nextGaussian();
        }
        return new ArraySource(time, sin, cos);
    }

    private static AngleTrack decode(ArraySource source) {
        return HallDecoder.decode(source, DecodeOptions.fromCapture());
    }

    private static AngleTrack withoutDrift(ArraySource source, Correction c) {
        return HallDecoder.decode(
                source,
                DecodeOptions.calibrated(new Correction(
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
                        c.uncertaintyDeg(),
                        c.higher(),
                        OffsetDrift.NONE,
                        1,
                        Rails.NONE)));
    }

    private static boolean rests(int i) {
        return i % MOVE > 90;
    }

    /** Of the means of the rests: root mean square about their mean, degrees. */
    private static double errorAtRest(Decoded track, double[] truth) {
        int rests = truth.length / MOVE;
        double sum = 0;
        double squares = 0;
        for (int rest = 0; rest < rests; rest++) {
            double error = 0;
            for (int k = 91; k < MOVE; k++) {
                error += (track.angleDeg[rest * MOVE + k] - truth[rest * MOVE + k]) / (MOVE - 91);
            }
            sum += error;
            squares += error * error;
        }
        return Math.sqrt(squares / rests - sum * sum / rests / rests);
    }

    /** Greatest change of the angle from one sample to the next while the shaft rests, degrees. */
    private static double greatestStep(Decoded track) {
        double greatest = 0;
        for (int i = 1; i < track.size; i++) {
            if (rests(i) && rests(i - 1)) {
                greatest = Math.max(greatest, Math.abs(track.angleDeg[i] - track.angleDeg[i - 1]));
            }
        }
        return greatest;
    }

    @Nested
    class Over_four_hours_by_five_percent_of_the_radius {
        private final double[] angle = moves(4);
        private final ArraySource source = source(angle, 0.05, 2);
        private final AngleTrack track = decode(source);

        @Test
        void it_is_found_by_blocks() {
            assertThat(track.correction().drift().centres()).hasSizeBetween(22, 24);
            assertThat(track.correction().drift().range() / RADIUS).isBetween(0.045, 0.052);
        }

        @Test
        void the_angle_is_better_by_far_than_with_one_fit() {
            double before = errorAtRest(Decoded.of(withoutDrift(source, track.correction())), angle);
            double after = errorAtRest(Decoded.of(track), angle);

            assertThat(before).isGreaterThan(0.5);
            assertThat(after).isLessThan(0.02);
        }

        @Test
        void the_scatter_across_the_circle_falls_to_that_of_the_noise() {
            OffsetDrift drift = track.correction().drift();

            assertThat(drift.scatterBeforeDeg()).isGreaterThan(0.5);
            // 2 counts on 1450
            assertThat(drift.scatterAfterDeg()).isCloseTo(Math.toDegrees(2 / RADIUS), within(0.01));
        }

        @Test
        void block_sizes_and_where_reading_starts_do_not_matter() {
            var whole = Decoded.of(track);
            var odd = Decoded.read(track, track.open(), 977);
            var late = Decoded.read(track, track.open(3 * 3600), 4096);

            assertThat(Arrays.mismatch(odd.angleDeg, whole.angleDeg)).isEqualTo(-1);
            int from = whole.index(3 * 3600);
            int lateFrom = late.index(3 * 3600);
            assertThat(late.angleDeg[lateFrom]).isEqualTo(whole.angleDeg[from]);
            assertThat(late.angleDeg[late.size - 1]).isEqualTo(whole.angleDeg[whole.size - 1]);
        }
    }

    @Test
    void the_angle_has_no_steps() {
        var track = Decoded.of(decode(source(moves(4), 0.05, 0)));

        assertThat(track.correction.drift().isLearned()).isTrue();
        // 0.05 of the radius in 4 h are 3e-6 degrees from sample to sample
        assertThat(greatestStep(track)).isLessThan(1e-4);
    }

    @Test
    void a_record_without_drift_is_decoded_by_one_fit() {
        var source = source(moves(4), 0, 2);
        var track = decode(source);

        assertThat(track.correction().drift()).isEqualTo(OffsetDrift.NONE);
        double[] plain = Decoded.of(withoutDrift(source, track.correction())).angleDeg;
        assertThat(Arrays.mismatch(Decoded.of(track).angleDeg, plain)).isEqualTo(-1);
    }

    /** A third and a fifth harmonic, and blocks that go round the circle unevenly, each in its own way. */
    @Test
    void a_pair_that_is_no_ellipse_is_no_drift_though_blocks_differ() {
        var blocks = new OffsetBlocks();
        var random = new Random(SEED);
        for (int i = 0; i < 24 * 600; i++) {
            double uneven = 0.8 * Math.sin(i / 600 * 1.7);
            double phi = 2 * Math.PI * random.nextDouble();
            phi += uneven * Math.sin(phi + i / 600);
            double x = Math.cos(phi) + 0.02 * Math.cos(3 * phi) + 0.02 * Math.cos(4 * phi);
            double y = Math.sin(phi) + 0.02 * Math.sin(3 * phi) + 0.02 * Math.sin(4 * phi);
            blocks.add(i, RADIUS * x + random.nextGaussian(), RADIUS * y + random.nextGaussian());
        }

        assertThat(blocks.drift(new Ellipse(0, 0, 1, 0, RADIUS))).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(doubles = {0.1, 0.4})
    void a_record_of_less_than_four_blocks_is_decoded_by_one_fit(double hours) {
        assertThat(decode(source(moves(hours), 0.05, 2)).correction().drift()).isEqualTo(OffsetDrift.NONE);
    }

    @Test
    void more_blocks_than_are_kept_are_joined() {
        var blocks = new OffsetBlocks();
        for (int i = 0; i < 400 * 600; i++) {
            double phi = i * 0.17;
            double x = 2000 + 1400 * Math.cos(phi) + i / 4000.0;
            blocks.add(i * 1.0, x, 2100 + 1400 * Math.sin(phi));
        }

        var drift = blocks.drift(new Ellipse(2030, 2100, 1, 0, 1400)).orElseThrow();

        assertThat(drift.centres()).hasSize(200);
        assertThat(drift.range()).isBetween(58.0, 60.5); // 240,000 / 4000
    }
}
