package org.shiftstand.speed;

import java.nio.file.Path;
import java.util.Map;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunHeader;
import org.shiftstand.record.RunWriter;
import org.shiftstand.record.SqliteRunWriter;

/**
 * Writes a long run record by laying a short capture end to end, sensor power as events; at another rate than the capture's by
 * straight lines between its samples. Blocks are as long as those of a run: an eighth of a second, at most 124 samples.
 */
public final class LongRecord {
    private static final int MOST_SAMPLES_A_BLOCK = 124;
    private static final double AMPERE_PER_COUNT = 0.001;
    private static final double VOLT_PER_COUNT = 0.005;
    private static final short COUNTS_AT_8V2 = 1640;

    private final SampleBlock capture;
    private final long intervalNanos;
    private final double step;
    private final short[] block;

    private LongRecord(SampleBlock capture, double captureIntervalS, long intervalNanos) {
        this.capture = capture;
        this.intervalNanos = intervalNanos;
        step = intervalNanos / Math.rint(captureIntervalS * 1e9);
        block = new short[(int) Math.min(MOST_SAMPLES_A_BLOCK, Math.max(1, 125_000_000 / intervalNanos)) * 4];
    }

    /** {@code CAPTURE[.gz] OUT SAMPLES [RATE]}; the capture's rate where none is given. */
    public static void main(String[] args) {
        try (SampleSource source = CsvCapture.open(Path.of(args[0]), CsvOptions.usual())) {
            long intervalNanos =
                    Math.round(args.length > 3 ? 1e9 / Double.parseDouble(args[3]) : source.intervalS() * 1e9);
            RunHeader header = new RunHeader(
                    "TD-0107",
                    Map.of("made by", "LongRecord, from a short capture"),
                    Map.of(),
                    Map.of(),
                    intervalNanos,
                    AMPERE_PER_COUNT,
                    VOLT_PER_COUNT,
                    0,
                    true);
            try (SqliteRunWriter writer = SqliteRunWriter.create(Path.of(args[1]), header)) {
                new LongRecord(whole(source), source.intervalS(), intervalNanos).write(writer, Long.parseLong(args[2]));
                writer.finish("");
            }
        }
    }

    private static SampleBlock whole(SampleSource source) {
        SampleBlock all = new SampleBlock(1 << 20);
        SampleBlock some = new SampleBlock(4096);
        int n = 0;
        try (SampleReader reader = source.open()) {
            while (reader.next(some)) {
                System.arraycopy(some.hallSin, 0, all.hallSin, n, some.size());
                System.arraycopy(some.hallCos, 0, all.hallCos, n, some.size());
                System.arraycopy(some.currentA, 0, all.currentA, n, some.size());
                System.arraycopy(some.powered, 0, all.powered, n, some.size());
                n += some.size();
            }
        }
        all.size(n);
        return all;
    }

    private void write(RunWriter writer, long samples) {
        boolean powered = true;
        int perBlock = block.length / 4;
        for (long k = 0; k < samples; k++) {
            double at = k * step % capture.size();
            int i = (int) at;
            sample((int) (k % perBlock) * 4, i, at - i);
            if (capture.powered[i] != powered) {
                powered = capture.powered[i];
                writer.event(new RunEvent(micros(k), powered ? "hall-on" : "hall-off", 0, 0, 0, 0, "", 0, ""));
            }
            if ((k + 1) % perBlock == 0) {
                writer.block(k / perBlock, micros(k + 1 - perBlock), intervalNanos, block);
            }
        }
    }

    private void sample(int to, int i, double part) {
        // from the last sample on nothing leads over to the first
        int next = part == 0 || i + 1 == capture.size() || capture.powered[i] != capture.powered[i + 1] ? i : i + 1;
        block[to] = between(capture.hallSin, i, next, part, 1);
        block[to + 1] = between(capture.hallCos, i, next, part, 1);
        block[to + 2] = between(capture.currentA, i, next, part, AMPERE_PER_COUNT);
        block[to + 3] = COUNTS_AT_8V2;
    }

    private static short between(double[] values, int i, int next, double part, double scale) {
        return (short) Math.round((values[i] + part * (values[next] - values[i])) / scale);
    }

    private long micros(long sample) {
        return sample * intervalNanos / 1000;
    }
}
