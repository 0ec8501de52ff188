package org.shiftstand.fuzz;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.TreeMap;

/**
 * Many seeded rounds of one check. {@code -Dfuzz.rounds=N} makes N rounds instead of the few of a usual test run, {@code
 * -Dfuzz.seed=S} starts at another seed; every failure names its seed, and that seed alone with one round repeats it.
 * {@code -Dfuzz.table=F} adds a line to a file: name, first seed, rounds, failed, outcomes, failures; tabs between.
 */
final class Fuzz {
    /** More than any input of these tests may take. */
    private static final long LONGEST_MS = 20_000;

    private final String name;
    private final TreeMap<String, Integer> counts = new TreeMap<>();
    private final List<String> failures = new ArrayList<>();

    private Fuzz(String name) {
        this.name = name;
    }

    /** A check of one round; gives the kind of outcome, for the table. */
    interface Round {
        String run(Random random) throws Exception;
    }

    /** Runs all rounds, prints how often each outcome came, and fails with every seed that did. */
    static void rounds(String name, int usual, Round round) {
        var fuzz = new Fuzz(name);
        int n = Integer.getInteger("fuzz.rounds", usual);
        long first = Long.getLong("fuzz.seed", 1);
        for (long seed = first; seed < first + n; seed++) {
            fuzz.round(seed, round);
        }
        fuzz.tell(first, n);
        System.out.println("fuzz " + name + ": seeds " + first + " to " + (first + n - 1) + ", " + fuzz.counts + ", "
                + fuzz.failures.size() + " failed");
        assertThat(fuzz.failures)
                .as(name + ": " + fuzz.failures.size() + " of " + n + " rounds")
                .isEmpty();
    }

    private void tell(long first, int n) {
        String table = System.getProperty("fuzz.table", "");
        if (!table.isEmpty()) {
            List<String> fields = new ArrayList<>(List.of(
                    name,
                    Long.toString(first),
                    Integer.toString(n),
                    Integer.toString(counts.getOrDefault("failed", 0)),
                    counts.toString()));
            failures.forEach(failure -> fields.add(failure.replaceAll("\\s+", " ")));
            try {
                Files.writeString(
                        Path.of(table),
                        String.join("\t", fields) + "\n",
                        StandardOpenOption.CREATE,
                        StandardOpenOption.APPEND);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    private void round(long seed, Round round) {
        long start = System.nanoTime();
        try {
            counts.merge(round.run(new Random(seed)), 1, Integer::sum);
            long ms = (System.nanoTime() - start) / 1_000_000;
            if (ms > LONGEST_MS) {
                fail(seed, "took " + ms + " ms");
            }
        } catch (AssertionError e) {
            fail(seed, String.valueOf(e.getMessage()));
        } catch (Exception | StackOverflowError | OutOfMemoryError e) {
            var trace = new StringWriter();
            e.printStackTrace(new PrintWriter(trace));
            fail(seed, trace.toString().lines().limit(8).toList().toString());
        }
    }

    private void fail(long seed, String text) {
        counts.merge("failed", 1, Integer::sum);
        if (failures.size() < 25) {
            failures.add(name + ", seed " + seed + ": " + text);
        }
    }
}
