package org.shiftstand.cli;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.Problem;

/** Files that appear whole or not at all. */
final class Output {
    private Output() {}

    /** Writes beside the final name and moves there when complete; refuses an existing file unless {@code overwrite}. */
    static Path writeWhole(Path file, boolean overwrite, RunFolder.Content content) {
        if (!overwrite && Files.exists(file)) {
            throw new BadInput(new Problem(
                    file.toString(),
                    0,
                    0,
                    "exists already, and nothing is overwritten; name another file, or add --force"));
        }
        Path parent = file.toAbsolutePath().getParent();
        if (parent == null) {
            throw new BadInput(new Problem(file.toString(), 0, 0, "is a folder; a file name is expected"));
        }
        Path partial = null;
        try {
            Files.createDirectories(parent);
            partial = Files.createTempFile(parent, ".partial-", null);
            try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(partial), 1 << 16)) {
                content.writeTo(out);
            }
            Files.setPosixFilePermissions(
                    partial, java.nio.file.attribute.PosixFilePermissions.fromString("rw-r--r--"));
            Files.move(partial, file, RunFolder.ATOMIC);
            return file;
        } catch (IOException e) {
            throw new BadInput(new Problem(
                    file.toString(),
                    0,
                    0,
                    "cannot be written (" + cause(e) + "); name another file, in a folder that you may write to"));
        } finally {
            discard(partial);
        }
    }

    private static void discard(@org.jspecify.annotations.Nullable Path partial) {
        if (partial != null) {
            try {
                Files.deleteIfExists(partial);
            } catch (IOException e) {
                // nothing more can be done for a hidden partial file, and the first cause is what matters
                partial.toFile().deleteOnExit();
            }
        }
    }

    /** The cause of a failed file operation in plain words. */
    static String cause(IOException e) {
        return FileTrouble.words(e);
    }
}
