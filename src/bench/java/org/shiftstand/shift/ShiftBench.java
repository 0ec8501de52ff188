package org.shiftstand.shift;

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
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.ArraySource;

/**
 * Samples a second of pass 2, from Hall counts to the shift table, over 4 million samples: back and forth over two
 * sprockets, a shift of 120 ms every {@code everyS} seconds.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(
        value = 1,
        jvmArgsAppend = {"-Xmx512m", "-XX:+UseSerialGC"})
public class ShiftBench {
    private static final int SAMPLES = 4_000_000;

    /** Seconds from shift to shift at 512 Hz. */
    @Param({"1", "10"})
    public int everyS;

    private AngleTrack track = HallDecoder.decode(
            new ArraySource(new double[0], new double[0], new double[0]), DecodeOptions.fromCapture());

    @Setup(Level.Trial)
    public void samples() {
        double[] time = new double[SAMPLES];
        double[] sin = new double[SAMPLES];
        double[] cos = new double[SAMPLES];
        double[] current = new double[SAMPLES];
        int period = 512 * everyS;
        for (int i = 0; i < SAMPLES; i++) {
            double share = Math.min(1, i % period / 61.0);
            double way = 700 * share * share * (3 - 2 * share);
            double angle = i / period % 2 == 0 ? way : 700 - way;
            time[i] = i / 512.0;
            sin[i] = Math.rint(2100 + 1400 * Math.sin(Math.toRadians(angle)) + (i * 7 % 5) - 2);
            cos[i] = Math.rint(2050 + 1450 * Math.cos(Math.toRadians(angle + 3)) + (i * 3 % 5) - 2);
            current[i] = share < 1 ? 2 : 0.02;
        }
        track = HallDecoder.decode(new ArraySource(time, sin, cos).current(current), DecodeOptions.fromCapture());
    }

    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public double decoding() {
        double sum = 0;
        var block = new AngleBlock(4096);
        try (AngleReader reader = track.open()) {
            while (reader.next(block)) {
                sum += block.angleDeg[0];
            }
        }
        return sum;
    }

    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public int decodingAndShifts() {
        return ShiftFinder.find(track, Optional.empty(), ShiftOptions.defaults())
                .shifts()
                .size();
    }
}
