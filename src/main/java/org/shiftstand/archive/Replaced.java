package org.shiftstand.archive;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** A bag that appears whole or not at all: written beside its place under a hidden name, and moved when complete. */
final class Replaced {
    private Replaced() {}

    /** Writes the files of a bag. */
    interface Content<T> {
        T writeTo(EntrySink sink) throws IOException;
    }

    static <T> T by(Path bag, BagForm form, boolean overwrite, Content<T> content) {
        if (!overwrite && Files.exists(bag, LinkOption.NOFOLLOW_LINKS)) {
            throw bad(bag, "exists already, and nothing is overwritten; name another bag, or add --force");
        }
        Path parent = bag.toAbsolutePath().normalize().getParent();
        if (parent == null) {
            throw bad(bag, "is the top folder; a name for the bag is expected");
        }
        Path partial = null;
        try {
            Files.createDirectories(parent);
            partial = form == BagForm.FOLDER
                    ? Files.createTempDirectory(parent, ".partial-")
                    : Files.createTempFile(parent, ".partial-", null);
            T done = write(partial, form, form.top(bag), content);
            move(partial, bag, form);
            return done;
        } catch (IOException e) {
            throw bad(bag, "cannot be written (" + cause(e) + ")");
        } finally {
            discard(partial);
        }
    }

    private static <T> T write(Path partial, BagForm form, String top, Content<T> content) throws IOException {
        if (form == BagForm.FOLDER) {
            return content.writeTo(new FolderSink(partial));
        }
        try (OutputStream file = new BufferedOutputStream(Files.newOutputStream(partial), 1 << 16);
                EntrySink sink = form == BagForm.ZIP ? new ZipSink(file, top) : new TarSink(Gzip.packing(file), top)) {
            return content.writeTo(sink);
        }
    }

    /** A folder cannot take another one's place in one step: the old one steps aside, and is deleted last. */
    private static void move(Path partial, Path bag, BagForm form) throws IOException {
        if (form != BagForm.FOLDER) {
            Files.setPosixFilePermissions(partial, PosixFilePermissions.fromString("rw-r--r--"));
            Files.move(partial, bag, StandardCopyOption.ATOMIC_MOVE);
            return;
        }
        Files.setPosixFilePermissions(partial, PosixFilePermissions.fromString("rwxr-xr-x"));
        if (Files.exists(bag, LinkOption.NOFOLLOW_LINKS)) {
            refuseOtherFolders(bag);
            Path old = bag.resolveSibling(".old-" + partial.getFileName());
            Files.move(bag, old, StandardCopyOption.ATOMIC_MOVE);
            Files.move(partial, bag, StandardCopyOption.ATOMIC_MOVE);
            discard(old);
        } else {
            Files.move(partial, bag, StandardCopyOption.ATOMIC_MOVE);
        }
    }

    /** Overwriting a bag must not delete a folder that is none. */
    private static void refuseOtherFolders(Path bag) {
        if (!Files.isRegularFile(bag.resolve(BagTags.BAGIT), LinkOption.NOFOLLOW_LINKS)) {
            throw bad(bag, "is there and is no bag, so it is not overwritten; name another bag");
        }
    }

    private static void discard(@org.jspecify.annotations.Nullable Path partial) {
        if (partial == null || !Files.exists(partial, LinkOption.NOFOLLOW_LINKS)) {
            return;
        }
        try (Stream<Path> files = Files.walk(partial)) {
            List<Path> deepestFirst = files.sorted(Comparator.reverseOrder()).toList();
            for (Path file : deepestFirst) {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            // a hidden leftover; the first cause is what matters
            partial.toFile().deleteOnExit();
        }
    }

    static BadInput bad(Path bag, String what) {
        return new BadInput(new Problem(bag.toString(), 0, 0, what));
    }

    static String cause(IOException e) {
        if (e instanceof NoSuchFileException) {
            return "no such file or folder";
        }
        if (e instanceof AccessDeniedException) {
            return "permission denied";
        }
        if (e instanceof FileSystemException f && f.getReason() != null) {
            return f.getReason();
        }
        return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
    }
}
