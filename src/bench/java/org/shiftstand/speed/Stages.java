package org.shiftstand.speed;

import com.sun.management.OperatingSystemMXBean;
import java.io.PrintStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftOptions;

/**
 * Where the time goes when a long record is judged: seconds of each stage (wall clock, and
 * processor time of all threads, the compiler's too), in a machine that has just started and in one
 * that has done it before. Stages hold one another: pass 1 reads, the shift pass reads and decodes.
 */
public final class Stages {
    private static final PrintStream OUT = new PrintStream(System.out, true, StandardCharsets.UTF_8);
    private static final int BLOCK = 4096;

    private final SampleSource source;
    private static long lastCpuNanos = cpuNanos();

    private long samples;

    private Stages(SampleSource source) {
        this.source = source;
    }

    /** {@code RECORD [ROUNDS]}. */
    public static void main(String[] args) {
        int rounds = args.length > 1 ? Integer.parseInt(args[1]) : 3;
        for (int round = 1; round <= rounds; round++) {
            long start = System.nanoTime();
            try (JudgeInput input = JudgeInput.open(Path.of(args[0]), CsvOptions.usual())) {
                print(round, "open", start);
                new Stages(input.source()).run(round);
            }
        }
    }

    private void run(int round) {
        long start = System.nanoTime();
        AngleTrack track = HallDecoder.decode(source, DecodeOptions.fromCapture());
        start = print(round, "pass 1: read, correction", start);
        int shifts = ShiftFinder.find(track, Optional.empty(), ShiftOptions.defaults())
                .shifts()
                .size();
        start = print(round, "pass 2: read, decode, " + shifts + " shifts", start);
        read();
        start = print(round, "  of it: read " + samples + " samples", start);
        decode(track);
        print(round, "  of it: read, decode", start);
    }

    private void read() {
        SampleBlock block = new SampleBlock(BLOCK);
        try (SampleReader reader = source.open()) {
            while (reader.next(block)) {
                samples += block.size();
            }
        }
    }

    private static void decode(AngleTrack track) {
        AngleBlock block = new AngleBlock(2 * BLOCK);
        try (AngleReader reader = track.open()) {
            while (reader.next(block)) {
                // only the time counts
            }
        }
    }

    private static long cpuNanos() {
        return ManagementFactory.getPlatformMXBean(OperatingSystemMXBean.class).getProcessCpuTime();
    }

    private static long print(int round, String what, long start) {
        long cpu = cpuNanos();
        OUT.printf(
                Locale.ROOT,
                "round %d  %-40s %7.3f s wall %7.3f s processor%n",
                round,
                what,
                (System.nanoTime() - start) / 1e9,
                (cpu - lastCpuNanos) / 1e9);
        lastCpuNanos = cpu;
        return System.nanoTime();
    }
}
