package org.shiftstand.record;

import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;

/** A program that writes a record without end, to be killed: prints the number of each block once it is written. */
final class KilledRun {
    static final long SEED = 11;

    private KilledRun() {}

    public static void main(String[] args) {
        PrintStream acknowledged = new PrintStream(System.out, true, StandardCharsets.US_ASCII);
        try (SqliteRunWriter writer = SqliteRunWriter.create(Path.of(args[0]), Runs.header())) {
            for (long number = 0; ; number++) {
                Runs.writeBlock(writer, SEED, number);
                acknowledged.println(number);
            }
        }
    }
}
