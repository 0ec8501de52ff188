package org.shiftstand.archive;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.BasicFileAttributes;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import org.shiftstand.document.BadInput;

/** A file or folder that appears whole or not at all: made under a hidden name beside its place, then moved there. */
final class Whole {
    private Whole() {}

    /** Makes the content at a path that it is given. */
    @FunctionalInterface
    interface Making {
        void at(Path partial) throws IOException;
    }

    /**
     * Makes a new file or folder.
     *
     * @param folder whether {@code making} is given an empty folder; otherwise an empty file
     * @throws BadInput where it cannot be written; what stood there before is still there then
     */
    static void make(Path out, boolean folder, Making making) {
        make(out, out, folder, making);
    }

    /** Makes a new file within a folder, under a hidden name beside that folder at first. */
    static void makeWithin(Path folder, Path file, Making making) {
        make(folder, file, false, making);
    }

    private static void make(Path beside, Path out, boolean folder, Making making) {
        Path place = out.toAbsolutePath().normalize();
        Path parent = beside.toAbsolutePath().normalize().getParent();
        if (parent == null || place.getFileName() == null) {
            throw Trouble.bad(out, "is the root of everything; a name is expected");
        }
        Path partial = null;
        List<Path> made = missing(parent);
        try {
            Files.createDirectories(parent);
            partial = folder
                    ? Files.createTempDirectory(parent, ".partial-")
                    : Files.createTempFile(parent, ".partial-", null);
            making.at(partial);
            Files.setPosixFilePermissions(partial, PosixFilePermissions.fromString(folder ? "rwxr-xr-x" : "rw-r--r--"));
            moveInto(partial, place, parent);
            partial = null;
            made.clear();
        } catch (IOException e) {
            throw Trouble.bad(
                    out,
                    "cannot be written (" + Trouble.words(e)
                            + "); nothing was left there. Choose a folder that you may write to, with room on its disk");
        } finally {
            discard(partial);
            made.forEach(Whole::leaveNoEmpty);
        }
    }

    /** Folders that are to be made on the way, the innermost first. */
    private static List<Path> missing(Path parent) {
        List<Path> missing = new ArrayList<>();
        for (Path at = parent; at != null && !Files.exists(at, LinkOption.NOFOLLOW_LINKS); at = at.getParent()) {
            missing.add(at);
        }
        return missing;
    }

    private static void leaveNoEmpty(Path folder) {
        try {
            Files.deleteIfExists(folder);
        } catch (IOException e) {
            // somebody else put something into it meanwhile, and it stays
            return;
        }
    }

    /** A folder cannot take the place of another in one step: the old one steps aside first and goes last. */
    private static void moveInto(Path partial, Path place, Path parent) throws IOException {
        if (!Files.isDirectory(place, LinkOption.NOFOLLOW_LINKS)) {
            Files.move(partial, place, StandardCopyOption.ATOMIC_MOVE);
            return;
        }
        Path aside = Files.createTempDirectory(parent, ".replaced-");
        Path old = aside.resolve("bag");
        Files.move(place, old, StandardCopyOption.ATOMIC_MOVE);
        try {
            Files.move(partial, place, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException e) {
            Files.move(old, place, StandardCopyOption.ATOMIC_MOVE);
            throw e;
        } finally {
            discard(aside);
        }
    }

    private static void discard(@org.jspecify.annotations.Nullable Path path) {
        if (path == null) {
            return;
        }
        try {
            Files.walkFileTree(path, new Deletion());
        } catch (IOException e) {
            // nothing more can be done for a hidden partial file, and the first cause is what matters
            path.toFile().deleteOnExit();
        }
    }

    private static final class Deletion extends SimpleFileVisitor<Path> {
        @Override
        public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
            Files.delete(file);
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult postVisitDirectory(Path dir, @org.jspecify.annotations.Nullable IOException e)
                throws IOException {
            Files.delete(dir);
            return FileVisitResult.CONTINUE;
        }
    }
}
