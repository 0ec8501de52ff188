package org.shiftstand.cli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileVisitOption;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.List;
import java.util.Objects;
import java.util.Queue;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Stream;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * The records and captures below a folder, worked through on all cores; what comes of them is told in the order of their names,
 * whichever is ready first.
 */
final class ManyFiles {
    /** What one file may take of the heap: the spool of a long capture and its shifts. */
    private static final long BYTES_EACH = 96L << 20;

    private final Path folder;
    private final List<Path> files;

    private ManyFiles(Path folder, List<Path> files) {
        this.folder = folder;
        this.files = files;
    }

    /**
     * All below a folder, by path; shift tables that we wrote ourselves are no captures.
     *
     * @throws BadInput where there is none, or the folder cannot be read
     */
    static ManyFiles below(Path folder) {
        List<Path> files;
        try (Stream<Path> all = Files.walk(folder, FileVisitOption.FOLLOW_LINKS)) {
            files = all.filter(Files::isRegularFile)
                    .filter(ManyFiles::isWanted)
                    .sorted()
                    .toList();
        } catch (IOException e) {
            throw unreadable(folder, e);
        } catch (UncheckedIOException e) {
            throw unreadable(folder, Objects.requireNonNull(e.getCause(), "such an exception has one"));
        }
        if (files.isEmpty()) {
            throw new BadInput(new Problem(
                    folder.toString(),
                    0,
                    0,
                    "holds no record or capture; expected files that end in .run, .csv or .csv.gz, here or below"));
        }
        return new ManyFiles(folder, files);
    }

    private static BadInput unreadable(Path folder, IOException e) {
        return new BadInput(
                new Problem(folder.toString(), 0, 0, "cannot be read (" + Output.cause(e) + "); check its rights"));
    }

    private static boolean isWanted(Path file) {
        String name = file.getFileName().toString();
        return !name.equals(Reports.SHIFTS)
                && (name.endsWith(".run") || name.endsWith(".csv") || name.endsWith(".csv.gz"));
    }

    /** A file as people see it: below the folder. */
    Path shown(Path file) {
        return folder.relativize(file);
    }

    /** Where what belongs to a file goes below another folder: its own place, without its ending. */
    Path placeBelow(Path other, Path file) {
        Path place = shown(file);
        String stem = place.getFileName().toString().replaceFirst("\\.(run|csv|csv\\.gz)$", "");
        return other.resolve(place).resolveSibling(stem);
    }

    /**
     * Works through all of them, as many at a time as there are cores and room in the heap.
     *
     * @param work of one file; called from several threads
     * @param told takes the results, in the caller's thread and in the order of the files
     */
    <R> void each(Function<Path, R> work, Consumer<R> told) {
        long room = Math.max(1, Runtime.getRuntime().maxMemory() / BYTES_EACH);
        int threads = (int) Math.min(Math.min(Runtime.getRuntime().availableProcessors(), room), files.size());
        ExecutorService pool = Executors.newFixedThreadPool(threads, ManyFiles::thread);
        try {
            Queue<Future<R>> results = new ArrayDeque<>(); // what was told is let go
            files.forEach(file -> results.add(pool.submit(() -> work.apply(file))));
            for (Future<R> next = results.poll(); next != null; next = results.poll()) {
                told.accept(waited(next));
            }
        } finally {
            pool.shutdownNow();
        }
    }

    private static Thread thread(Runnable work) {
        Thread thread = new Thread(work, "file");
        thread.setDaemon(true);
        return thread;
    }

    private static <R> R waited(Future<R> result) {
        try {
            return result.get();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while files were judged", e);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof RuntimeException cause) {
                throw cause;
            }
            if (e.getCause() instanceof Error cause) {
                throw cause;
            }
            throw new IllegalStateException("judging a file failed", e);
        }
    }
}
