package org.shiftstand.speed;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.SqliteRunWriter;

/** Run records: blocks written a second, one commit each; samples read a second. 64 samples a block. */
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
public class RecordBench {
    private static final int SAMPLES_A_BLOCK = 64;
    private static final int BLOCKS = 14_400; // half an hour at 512 Hz
    private static final long BLOCK_MICROS = 125_000;
    private static final long INTERVAL_NANOS = 1_953_125;

    static RunHeader header(boolean simulated) {
        return new RunHeader("TD-0107", Map.of(), Map.of(), Map.of(), INTERVAL_NANOS, 0.001, 0.005, 0, simulated);
    }

    static short[] samples() {
        short[] samples = new short[SAMPLES_A_BLOCK * 4];
        for (int i = 0; i < samples.length; i++) {
            samples[i] = (short) ((i * 2_654_435) >>> 20);
        }
        return samples;
    }

    private static Path fresh() throws IOException {
        return Files.createTempDirectory("shiftstand-bench").resolve("bench.run");
    }

    private static void remove(Path file) throws IOException {
        try (DirectoryStream<Path> files =
                Files.newDirectoryStream(file.getParent())) { // a lock lies beside the record
            for (Path each : files) {
                Files.delete(each);
            }
        }
        Files.delete(file.getParent());
    }

    /** A record that is being written. */
    @State(Scope.Thread)
    public static class Running {
        /** Whether each commit waits for the disk, as on a real rig. */
        @Param({"false", "true"})
        public boolean waitForDisk;

        private Path file;
        private SqliteRunWriter writer;
        private final short[] samples = samples();
        private long number;

        @Setup
        public void create() throws IOException {
            file = fresh();
            number = 0;
            writer = SqliteRunWriter.create(file, header(!waitForDisk));
        }

        @TearDown
        public void close() throws IOException {
            writer.close();
            remove(file);
        }
    }

    /** A record that was finished. */
    @State(Scope.Benchmark)
    public static class Finished {
        private Path file;
        private final SampleBlock block = new SampleBlock(4096);

        @Setup
        public void write() throws IOException {
            file = fresh();
            short[] samples = samples();
            try (SqliteRunWriter writer = SqliteRunWriter.create(file, header(true))) {
                for (long number = 0; number < BLOCKS; number++) {
                    writer.block(number, number * BLOCK_MICROS, INTERVAL_NANOS, samples);
                }
                writer.finish("");
            }
        }

        @TearDown
        public void remove() throws IOException {
            RecordBench.remove(file);
        }
    }

    /** Blocks a second. */
    @Benchmark
    public void writeBlock(Running run) {
        run.writer.block(run.number, run.number * BLOCK_MICROS, INTERVAL_NANOS, run.samples);
        run.number++;
    }

    /** Samples a second: opening (check sums, digest) and one pass. */
    @Benchmark
    @OperationsPerInvocation(BLOCKS * SAMPLES_A_BLOCK)
    public double openAndReadSamples(Finished run) {
        double last = 0;
        try (RunRecord record = RunRecord.open(run.file);
                SampleReader reader = record.open()) {
            while (reader.next(run.block)) {
                last += run.block.timeS[run.block.size() - 1];
            }
        }
        return last;
    }
}
