package org.shiftstand.record;

import java.nio.file.Path;

/**
 * What the kept records hold, made-up runs: {@code v1.run} and {@code v1-crashed.run} were written by the program when its
 * format was version 1, and stay as they are; {@code v2.run} by {@link #main}. {@code src/test/resources/record/README.md}
 * says when.
 */
final class Kept {
    static final int BLOCKS = 40;
    static final int LOST = 17;

    /** The block of {@code v2.run} before which the run was broken off. */
    static final int SECOND_SESSION = 25;

    /** How long it was away. */
    static final long AWAY_MICROS = 7_000_000;

    static final long SEED = 107;

    private Kept() {}

    public static void main(String[] args) {
        try (SqliteRunWriter writer = SqliteRunWriter.create(Path.of(args[0]), Runs.simulated())) {
            writer.anchor(Runs.ORIGIN_MICROS, 1_790_000_000_000_000L);
            writer.place(0, Runs.ORIGIN_MICROS);
            for (int number = 0; number < BLOCKS; number++) {
                if (number == SECOND_SESSION) {
                    writer.session(at2(number, -1), at2(number, 0), 1_790_000_020_000_000L, "the program was gone");
                }
                if (number % 10 == 1) {
                    writer.place(1 + number / 10, at2(number, 0));
                    writer.event(event(number, 1_234, "request", 1, 1 + number / 10));
                    writer.event(event(number, 2_000, "hall-on", 0, 0));
                }
                if (number == LOST) {
                    writer.gap(at2(number, 0), at2(number + 1, 0), Runs.BLOCK, "damaged frame: check sum");
                } else {
                    int wire = number < SECOND_SESSION ? number : number - SECOND_SESSION;
                    writer.block(wire, at2(number, 0), Runs.INTERVAL_NANOS, Runs.samples(SEED, number));
                }
                if (number % 10 == 8) {
                    writer.event(event(number, 99_000, "hall-off", 0, 0));
                }
            }
            writer.event(event(BLOCKS, 0, "supply-off", 0, 0));
            writer.counter("frames", 58);
            writer.counter("damaged frames", 1);
            writer.finish("");
        }
    }

    /** When a block of a record of version 1 begins. */
    static long at(int block, long plusMicros) {
        return Runs.ORIGIN_MICROS + block * Runs.BLOCK_MICROS + plusMicros;
    }

    /** When a block of {@code v2.run} begins. */
    static long at2(int block, long plusMicros) {
        return at(block, plusMicros) + (block < SECOND_SESSION ? 0 : AWAY_MICROS);
    }

    private static RunEvent event(int block, long plusMicros, String kind, int value, int from) {
        return from == 0
                ? new RunEvent(at2(block, plusMicros), kind, value, 0, 0, 0, "", 0, "")
                : new RunEvent(at2(block, plusMicros), kind, value, from, from + 1, 1, "sweep-1", 8200, "");
    }
}
