package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;

/** A folder for what is written on the way; gone with everything in it once closed, also when the program is ended. */
final class Scratch implements AutoCloseable {
    private final Path folder;
    private final Thread atTheEnd;

    private Scratch(Path folder) {
        this.folder = folder;
        this.atTheEnd = new Thread(() -> delete(folder), "scratch");
        Runtime.getRuntime().addShutdownHook(atTheEnd);
    }

    static Scratch make() throws IOException {
        return new Scratch(Files.createTempDirectory("shiftstand-"));
    }

    Path path() {
        return folder;
    }

    /** A new folder in it. */
    Path folder(String name) throws IOException {
        return Files.createDirectory(folder.resolve(name));
    }

    @Override
    public void close() {
        delete(folder);
        try {
            Runtime.getRuntime().removeShutdownHook(atTheEnd);
        } catch (IllegalStateException e) {
            // the program is being ended, and the hook does the same
        }
    }

    private static void delete(Path folder) {
        try (Stream<Path> files = Files.walk(folder)) {
            List<Path> deepestFirst = files.sorted(Comparator.reverseOrder()).toList();
            for (Path file : deepestFirst) {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            folder.toFile().deleteOnExit(); // a leftover in the temporary folder, which the system clears
        }
    }
}
