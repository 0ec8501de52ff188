package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;

/** A record cannot be written on. */
final class NotWritten extends UncheckedIOException {
    private final boolean kept;

    /** @param kept whether everything that was given to the writer, the last row included, is in the record all the same */
    NotWritten(Path file, Exception cause, boolean kept) {
        this(
                file + ": the run record cannot be written: " + cause.getMessage()
                        + (kept ? ". Everything up to here is in it." : ""),
                cause,
                kept);
    }

    private NotWritten(String text, Exception cause, boolean kept) {
        super(text, new IOException(text, cause));
        this.kept = kept;
    }

    boolean kept() {
        return kept;
    }
}
