package org.shiftstand.faults;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * One row of the table of faults: a fault, how often it was tried, what came of it.
 *
 * @param seen of the trials that were survived
 * @param failures of the others, each with its seed
 */
record Tally(String fault, long firstSeed, int tried, List<Seen> seen, List<String> failures) {
    Tally {
        seen = List.copyOf(seen);
        failures = List.copyOf(failures);
    }

    /** Does a fault with so many seeds from the first on, some at once. */
    static Tally of(String fault, long firstSeed, int trials, int atOnce, Path folder, Trial trial) {
        ExecutorService threads = Executors.newFixedThreadPool(atOnce);
        List<Seen> seen = new ArrayList<>();
        List<String> failures = new ArrayList<>();
        try {
            List<Future<Seen>> running = new ArrayList<>();
            for (int i = 0; i < trials; i++) {
                long seed = firstSeed + i;
                running.add(threads.submit(() -> once(fault, seed, folder, trial)));
            }
            for (int i = 0; i < trials; i++) {
                try {
                    seen.add(running.get(i).get());
                } catch (ExecutionException e) {
                    String failure = fault + ", seed " + (firstSeed + i) + ": "
                            + text(Objects.requireNonNullElse(e.getCause(), e));
                    System.err.println(failure);
                    failures.add(failure);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new AssertionError("interrupted in " + fault, e);
        } finally {
            threads.shutdownNow();
        }
        return new Tally(fault, firstSeed, trials, seen, failures);
    }

    private static Seen once(String fault, long seed, Path parent, Trial trial) throws Exception {
        Path folder = parent.toAbsolutePath().resolve(fault.replaceAll("[^A-Za-z0-9]+", "-") + "-" + seed);
        clear(folder);
        Files.createDirectories(folder);
        Seen seen = StoodStill.madeAgain(trial).run(seed, folder);
        if (!Boolean.getBoolean("faults.keep")) {
            clear(folder); // that of a failure stays, to be looked at
        }
        return seen;
    }

    private static String text(Throwable thrown) {
        if (thrown instanceof AssertionError) {
            return String.valueOf(thrown.getMessage());
        }
        var trace = new StringWriter();
        thrown.printStackTrace(new PrintWriter(trace));
        return trace.toString();
    }

    private static void clear(Path folder) throws IOException {
        if (Files.exists(folder)) {
            try (Stream<Path> files = Files.walk(folder)) {
                files.sorted(Comparator.reverseOrder()).forEach(file -> {
                    try {
                        Files.delete(file);
                    } catch (IOException e) {
                        throw new UncheckedIOException(e);
                    }
                });
            }
        }
    }

    /** The row as Markdown: fault, tried, survived, lost, longest to supply off, seeds, remarks. */
    String row() {
        TreeMap<String, Integer> remarks = new TreeMap<>();
        seen.stream()
                .map(Seen::remark)
                .filter(remark -> !remark.isEmpty())
                .forEach(remark -> remarks.merge(remark, 1, Integer::sum));
        List<String> told = new ArrayList<>();
        if (seen.stream().anyMatch(s -> s.noticedS().isPresent())) {
            told.add(String.format(Locale.ROOT, "the host ended the run within %.3f s", most(Seen::noticedS)));
        }
        remarks.forEach((remark, n) -> told.add(n == 1 ? remark : n + " × " + remark));
        return String.format(
                Locale.ROOT,
                "| %s | %d | %d | %s | %s | %s | %s |",
                fault,
                tried,
                seen.size(),
                lost(),
                longest(),
                tried == 1 ? "" + firstSeed : firstSeed + " to " + (firstSeed + tried - 1),
                String.join("; ", told));
    }

    private String lost() {
        if (seen.stream().noneMatch(s -> s.lost().isPresent())) {
            return "–";
        }
        long all = seen.stream().mapToLong(s -> s.lost().orElse(0)).sum();
        long most = seen.stream().mapToLong(s -> s.lost().orElse(0)).max().orElse(0);
        long onTheWay = seen.stream().mapToLong(s -> s.onTheWay().orElse(0)).sum();
        return all == 0 ? "0" : all + " (" + onTheWay + " on the way; at most " + most + " at once)";
    }

    private String longest() {
        return seen.stream().anyMatch(s -> s.supplyOffS().isPresent())
                ? String.format(Locale.ROOT, "%.3f s", most(Seen::supplyOffS))
                : "–";
    }

    private double most(Function<Seen, OptionalDouble> of) {
        return seen.stream().mapToDouble(s -> of.apply(s).orElse(0)).max().orElse(0);
    }
}
