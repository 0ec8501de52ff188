package org.shiftstand.record;

import java.nio.file.Path;

/**
 * What {@code record/v1.run} holds: a made-up run of version 1 with a lost block. Its file was written once, by {@link
 * #main}, and stays as it is; {@code src/test/resources/record/README.md} says when.
 */
final class FixtureV1 {
    static final int BLOCKS = 40;
    static final int LOST = 17;
    static final long SEED = 107;

    private FixtureV1() {}

    public static void main(String[] args) {
        try (SqliteRunWriter writer = SqliteRunWriter.create(Path.of(args[0]), Runs.simulated())) {
            writer.anchor(Runs.ORIGIN_MICROS, 1_790_000_000_000_000L);
            writer.place(0, Runs.ORIGIN_MICROS);
            for (int number = 0; number < BLOCKS; number++) {
                if (number % 10 == 1) {
                    writer.place(1 + number / 10, at(number, 0));
                    writer.event(event(number, 1_234, "request", 1, 1 + number / 10));
                    writer.event(event(number, 2_000, "hall-on", 0, 0));
                }
                if (number == LOST) {
                    writer.gap(at(number, 0), at(number + 1, 0), Runs.BLOCK, "damaged frame: check sum");
                } else {
                    Runs.writeBlock(writer, SEED, number);
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

    static long at(int block, long plusMicros) {
        return Runs.ORIGIN_MICROS + block * Runs.BLOCK_MICROS + plusMicros;
    }

    private static RunEvent event(int block, long plusMicros, String kind, int value, int from) {
        return from == 0
                ? new RunEvent(at(block, plusMicros), kind, value, 0, 0, 0, "", 0, "")
                : new RunEvent(at(block, plusMicros), kind, value, from, from + 1, 1, "sweep-1", 8200, "");
    }
}
