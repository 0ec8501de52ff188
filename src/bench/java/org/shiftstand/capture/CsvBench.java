package org.shiftstand.capture;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * Rows a second of opening a CSV capture: parse, check, digest, spool. Five columns, like the bench captures.
 *
 * <p>{@code mvn -Pbench -Dbench=CsvBench}
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(
        value = 1,
        jvmArgsAppend = {"-Xmx256m", "-XX:+UseSerialGC"})
public class CsvBench {
    private static final int ROWS = 1_000_000;

    private Path file = Path.of("");

    @Setup(Level.Trial)
    public void write() throws IOException {
        file = Files.createTempFile("bench-", ".csv");
        var text = new StringBuilder("time_s,hall_sin,hall_cos,hall_power,current_a\r\n");
        for (int i = 0; i < ROWS; i++) {
            double angle = i * 0.02;
            text.append(String.format(
                    Locale.ROOT,
                    "%.6f,%d,%d,%d,%.3f\r\n",
                    i / 512.0,
                    (int) (2048 + 1400 * Math.sin(angle)),
                    (int) (2048 + 1400 * Math.cos(angle)),
                    i / 1000 % 2,
                    0.02 + (i % 700) * 0.01));
        }
        Files.write(file, text.toString().getBytes(StandardCharsets.US_ASCII));
    }

    @TearDown(Level.Trial)
    public void delete() throws IOException {
        Files.delete(file);
    }

    @Benchmark
    @OperationsPerInvocation(ROWS)
    public double open() {
        try (SampleSource source = CsvCapture.open(file, CsvOptions.usual())) {
            return source.intervalS();
        }
    }
}
