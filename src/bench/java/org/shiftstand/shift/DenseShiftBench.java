package org.shiftstand.shift;

import java.nio.file.Path;
import java.util.Optional;
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
import org.openjdk.jmh.annotations.Warmup;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.ArraySource;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;

/**
 * Samples a second over a dense sweep: the capture bench-a, two motions every 1.5 s at 512 Hz, laid end to end in memory
 * to 2 million samples, without requests and sensor power. At a seam the shaft jumps.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(
        value = 1,
        jvmArgsAppend = {"-Xmx512m", "-XX:+UseSerialGC"})
public class DenseShiftBench {
    private static final int SAMPLES = 2_000_000;

    private SampleSource source = new ArraySource(new double[0], new double[0], new double[0]);
    private AngleTrack track = HallDecoder.decode(source, DecodeOptions.fromCapture());

    @Setup(Level.Trial)
    public void samples() {
        double[] time = new double[SAMPLES];
        double[] sin = new double[SAMPLES];
        double[] cos = new double[SAMPLES];
        double[] current = new double[SAMPLES];
        var block = new SampleBlock(4096);
        try (SampleSource capture =
                CsvCapture.open(Path.of("src/test/resources/captures/bench-a.csv.gz"), CsvOptions.usual())) {
            int n = 0;
            while (n < SAMPLES) {
                try (SampleReader reader = capture.open()) {
                    while (n < SAMPLES && reader.next(block)) {
                        int take = Math.min(block.size(), SAMPLES - n);
                        System.arraycopy(block.hallSin, 0, sin, n, take);
                        System.arraycopy(block.hallCos, 0, cos, n, take);
                        System.arraycopy(block.currentA, 0, current, n, take);
                        n += take;
                    }
                }
            }
        }
        for (int i = 0; i < SAMPLES; i++) {
            time[i] = i / 512.0;
        }
        source = new ArraySource(time, sin, cos).current(current);
        track = HallDecoder.decode(source, DecodeOptions.fromCapture());
    }

    /** Angle and shifts of a track whose correction is known. */
    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public int decodingAndShifts() {
        return shifts(track);
    }

    /** The same with the pass that estimates the correction. */
    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public int bothPasses() {
        return shifts(HallDecoder.decode(source, DecodeOptions.fromCapture()));
    }

    private static int shifts(AngleTrack of) {
        return ShiftFinder.find(of, Optional.empty(), ShiftOptions.defaults())
                .shifts()
                .size();
    }
}
