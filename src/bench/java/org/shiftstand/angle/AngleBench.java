package org.shiftstand.angle;

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
import org.shiftstand.capture.ArraySource;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;

/**
 * Samples a second of pass 1 (correction), pass 2 (decoding) and both, over 4 million samples of moves and rests.
 *
 * <p>{@code mvn -Pbench -Dbench=AngleBench}
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(
        value = 1,
        jvmArgsAppend = {"-Xmx512m", "-XX:+UseSerialGC"})
public class AngleBench {
    private static final int SAMPLES = 4_000_000;

    private ArraySource source = new ArraySource(new double[0], new double[0], new double[0]);
    private AngleTrack track = HallDecoder.decode(source, DecodeOptions.fromCapture());
    private final AngleBlock block = new AngleBlock(4096);

    @Setup(Level.Trial)
    public void samples() {
        double[] time = new double[SAMPLES];
        double[] sin = new double[SAMPLES];
        double[] cos = new double[SAMPLES];
        double angle = 0;
        for (int i = 0; i < SAMPLES; i++) {
            int phase = i % 600;
            double speed = phase < 60 ? Math.min(phase, 60 - phase) * 0.5 : 0; // degrees a sample
            angle += i / 600 % 2 == 0 ? speed : -speed;
            time[i] = i / 512.0;
            sin[i] = Math.rint(2100 + 1400 * Math.sin(Math.toRadians(angle)) + (i * 7 % 5) - 2);
            cos[i] = Math.rint(2050 + 1450 * Math.cos(Math.toRadians(angle + 3)) + (i * 3 % 5) - 2);
        }
        source = new ArraySource(time, sin, cos);
        track = HallDecoder.decode(source, DecodeOptions.fromCapture());
    }

    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public double reading() {
        double sum = 0;
        var samples = new SampleBlock(4096);
        try (SampleReader reader = source.open()) {
            while (reader.next(samples)) {
                sum += samples.hallCos[0];
            }
        }
        return sum;
    }

    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public Correction correcting() {
        return HallDecoder.decode(source, DecodeOptions.fromCapture()).correction();
    }

    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public double decoding() {
        return decode(track);
    }

    @Benchmark
    @OperationsPerInvocation(SAMPLES)
    public double both() {
        return decode(HallDecoder.decode(source, DecodeOptions.fromCapture()));
    }

    private double decode(AngleTrack from) {
        double sum = 0;
        try (AngleReader reader = from.open()) {
            while (reader.next(block)) {
                sum += block.angleDeg[0];
            }
        }
        return sum;
    }
}
