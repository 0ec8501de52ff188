package org.shiftstand.record;

import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;

/**
 * A program that writes a record without end, to be killed: begins it, or goes on with it where it is there. Prints the index
 * of each block, over all sessions, once it is written. Behind a queue that only means that it was given.
 */
final class KilledRun {
    static final long SEED = 11;
    static final long AWAY_MICROS = 10_000_000;

    private KilledRun() {}

    /** {@code FILE [queued]}. */
    public static void main(String[] args) {
        PrintStream acknowledged = new PrintStream(System.out, true, StandardCharsets.US_ASCII);
        Path file = Path.of(args[0]);
        long before = 0;
        long began = Runs.ORIGIN_MICROS;
        SqliteRunWriter direct;
        if (Files.exists(file)) {
            try (RunRecord record = RunRecord.open(file)) {
                before = record.samples() / Runs.BLOCK;
                began = record.lastMicros() + AWAY_MICROS;
            }
            direct = SqliteRunWriter.resume(file);
            direct.session(began, began, 0, "killed after " + before);
        } else {
            direct = SqliteRunWriter.create(file, Runs.header());
        }
        try (RunWriter writer = args.length > 1 ? new QueuedRunWriter(direct) : direct) {
            for (long number = 0; ; number++) {
                long index = before + number;
                write(writer, index, number, began);
                acknowledged.println(index);
            }
        }
    }

    /** A block; before every tenth a place and an event. */
    static void write(RunWriter writer, long index, long number, long began) {
        long at = began + number * Runs.BLOCK_MICROS;
        if (index % 10 == 0) {
            writer.place((int) index, at);
            writer.event(new RunEvent(at, "request", 1, 1, 2, (int) index, "sweep", 8200, ""));
        }
        writer.block(number, at, Runs.INTERVAL_NANOS, Runs.samples(SEED, index));
    }
}
