package org.shiftstand.fuzz;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.document.BadInput;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftOptions;

/** Whatever the settings, wherever the supply was cut or the run broken off: shifts are found and measured, or not measured. */
@Timeout(value = 3600)
class AnySettingTest {
    @TempDir
    private Path folder;

    @ParameterizedTest
    @ValueSource(strings = {"bench-a", "bench-b", "bench-c", "bench-d", "bench-e", "bench-g", "bench-h"})
    void no_setting_and_no_cut_is_a_defect(String name) {
        Bench bench = Bench.of(name, 2);

        Fuzz.rounds("settings on " + name, 20, random -> {
            List<String[]> rows = bench.copy();
            if (random.nextBoolean()) {
                Damage.inflict(bench, rows, random);
            }
            try (SampleSource source = CsvCapture.open(bench.write(rows, folder), CsvOptions.usual())) {
                double lengthS = bench.timeS(bench.rows().size() - 1);
                AngleTrack track = HallDecoder.decode(new Cut(source, random, lengthS), DecodeOptions.fromCapture());
                Optional<Profile> profile = random.nextBoolean() ? Optional.of(bench.profile()) : Optional.empty();
                return ShiftFinder.find(track, profile, options(random))
                                .shifts()
                                .isEmpty()
                        ? "none"
                        : "measured";
            } catch (BadInput e) {
                return "refused";
            }
        });
    }

    private static ShiftOptions options(Random random) {
        double[] bands = {2, 10, 20, 40, 80};
        double[] dwells = {0.02, 0.05, 0.15, 0.4};
        ShiftOptions options = ShiftOptions.defaults()
                .withBandDeg(bands[random.nextInt(bands.length)])
                .withDwellS(dwells[random.nextInt(dwells.length)]);
        return random.nextBoolean() ? options.withStallCurrentA(2) : options;
    }

    /** The same samples of a run whose supply was cut, and which was broken off, at random instants. */
    private static final class Cut implements SampleSource {
        private final SampleSource samples;
        private final List<Double> cuts = new ArrayList<>();
        private final List<Break> breaks = new ArrayList<>();

        Cut(SampleSource samples, Random random, double lengthS) {
            this.samples = samples;
            for (int i = random.nextInt(6); i > 0; i--) {
                cuts.add(random.nextDouble() * lengthS);
            }
            Collections.sort(cuts);
            if (random.nextInt(4) == 0) {
                double at = random.nextDouble() * lengthS;
                breaks.add(new Break(at, at + samples.intervalS(), "made"));
            }
        }

        @Override
        public SourceIdentity identity() {
            return samples.identity();
        }

        @Override
        public Channels channels() {
            return samples.channels();
        }

        @Override
        public double intervalS() {
            return samples.intervalS();
        }

        @Override
        public SampleReader open() {
            return samples.open();
        }

        @Override
        public List<Request> requests() {
            return samples.requests();
        }

        @Override
        public List<Double> supplyCuts() {
            return cuts;
        }

        @Override
        public List<Gap> gaps() {
            return samples.gaps();
        }

        @Override
        public List<Break> breaks() {
            return breaks;
        }

        @Override
        public List<String> notices() {
            return samples.notices();
        }

        @Override
        public void close() {
            samples.close();
        }
    }
}
