package org.shiftstand.record;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;

/** Runs for the tests of the record; invented data, no real unit. */
final class Runs {
    static final long INTERVAL_NANOS = 1_953_125; // 512 Hz
    static final int BLOCK = 64;
    static final long BLOCK_MICROS = BLOCK * INTERVAL_NANOS / 1000;
    static final long ORIGIN_MICROS = 5_000_000;

    private Runs() {}

    static RunHeader header() {
        Map<String, String> identity = new LinkedHashMap<>();
        identity.put("unit firmware", "2.4.1");
        identity.put("rig", "bench-two");
        identity.put("operator", "night shift");
        identity.put("station", "Quillmoor 3");
        return new RunHeader(
                "TD-0107",
                identity,
                Map.of("spec", "spec: tarn\nversion: 4\n", "procedure", "procedure: end-of-line\n"),
                Map.of("spec", "tarn.spec.yaml", "procedure", "end-of-line.yaml"),
                INTERVAL_NANOS,
                0.0012,
                0.005,
                1_790_000_000_000_000L,
                false);
    }

    static RunHeader simulated() {
        RunHeader h = header();
        return new RunHeader(
                h.unit(),
                h.identity(),
                h.texts(),
                h.textNames(),
                h.sampleIntervalNanos(),
                h.currentAPerCount(),
                h.supplyVPerCount(),
                h.startUtcMicros(),
                true);
    }

    static RunHeader unit(String unit) {
        RunHeader h = header();
        return new RunHeader(
                unit,
                h.identity(),
                h.texts(),
                h.textNames(),
                h.sampleIntervalNanos(),
                h.currentAPerCount(),
                h.supplyVPerCount(),
                h.startUtcMicros(),
                h.simulated());
    }

    /** Samples of one block, from a seed and the block's number alone. */
    static short[] samples(long seed, long number) {
        Random random = new Random(seed * 1_000_003 + number);
        short[] samples = new short[BLOCK * 4];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (short) random.nextInt(65536);
        }
        return samples;
    }

    static void writeBlock(RunWriter writer, long seed, long number) {
        writer.block(number, ORIGIN_MICROS + number * BLOCK_MICROS, INTERVAL_NANOS, samples(seed, number));
    }

    /** A finished record of so many blocks. */
    static Path finished(Path file, long seed, int blocks) {
        try (SqliteRunWriter writer = SqliteRunWriter.create(file, simulated())) {
            for (int number = 0; number < blocks; number++) {
                writeBlock(writer, seed, number);
            }
            writer.finish("");
        }
        return file;
    }

    /** A sample as read. */
    record Sample(double timeS, double sin, double cos, double currentA, double supplyV, boolean powered) {}

    static List<Sample> read(SampleSource source, int capacity) {
        return read(source.open(), capacity);
    }

    static List<Sample> read(SampleReader from, int capacity) {
        List<Sample> all = new ArrayList<>();
        SampleBlock block = new SampleBlock(capacity);
        try (SampleReader reader = from) {
            while (reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    all.add(new Sample(
                            block.timeS[i],
                            block.hallSin[i],
                            block.hallCos[i],
                            block.currentA[i],
                            block.supplyV[i],
                            block.powered[i]));
                }
            }
        }
        return all;
    }
}
