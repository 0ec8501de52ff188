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

/** Writes a long run record by laying a short capture end to end: 64 samples a block, sensor power as events. */
public final class LongRecord {
    private static final int SAMPLES_A_BLOCK = 64;
    private static final double AMPERE_PER_COUNT = 0.001;
    private static final double VOLT_PER_COUNT = 0.005;
    private static final short COUNTS_AT_8V2 = 1640;

    private final RunWriter writer;
    private final long intervalNanos;
    private final short[] samples = new short[SAMPLES_A_BLOCK * 4];
    private long written;
    private boolean powered = true;

    private LongRecord(RunWriter writer, long intervalNanos) {
        this.writer = writer;
        this.intervalNanos = intervalNanos;
    }

    /** {@code CAPTURE[.gz] OUT SAMPLES}. */
    public static void main(String[] args) {
        write(Path.of(args[0]), Path.of(args[1]), Long.parseLong(args[2]));
    }

    static void write(Path from, Path to, long samples) {
        try (SampleSource source = CsvCapture.open(from, CsvOptions.usual())) {
            long intervalNanos = Math.round(source.intervalS() * 1e9);
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
            try (SqliteRunWriter writer = SqliteRunWriter.create(to, header)) {
                LongRecord record = new LongRecord(writer, intervalNanos);
                while (record.written < samples) {
                    record.once(source, samples);
                }
                writer.finish("");
            }
        }
    }

    private void once(SampleSource source, long upTo) {
        SampleBlock block = new SampleBlock(SAMPLES_A_BLOCK);
        try (SampleReader reader = source.open()) {
            while (written < upTo && reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    add(block, i);
                }
            }
        }
    }

    private void add(SampleBlock block, int i) {
        int at = (int) (written % SAMPLES_A_BLOCK) * 4;
        samples[at] = (short) block.hallSin[i];
        samples[at + 1] = (short) block.hallCos[i];
        samples[at + 2] = (short) Math.round(block.currentA[i] / AMPERE_PER_COUNT);
        samples[at + 3] = COUNTS_AT_8V2;
        if (block.powered[i] != powered) {
            powered = block.powered[i];
            writer.event(new RunEvent(micros(written), powered ? "hall-on" : "hall-off", 0, 0, 0, 0, "", 0, ""));
        }
        written++;
        if (written % SAMPLES_A_BLOCK == 0) {
            long number = written / SAMPLES_A_BLOCK - 1;
            writer.block(number, micros(number * SAMPLES_A_BLOCK), intervalNanos, samples.clone());
        }
    }

    private long micros(long sample) {
        return sample * intervalNanos / 1000;
    }
}
