package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;

/** A record cannot be written on. */
final class NotWritten extends UncheckedIOException {
    private final Row row;

    /** What became of the row that was being written. */
    enum Row {
        /** In the record all the same, with everything before it. */
        IN,
        /** In the record if anything can be written to it later. */
        WAITING,
        /** Not in the record, and will not be. */
        LEFT_OUT
    }

    NotWritten(Path file, Exception cause, Row row) {
        this(
                file + ": the run record cannot be written: " + cause.getMessage()
                        + (row == Row.IN ? ". Everything up to here is in it." : ""),
                cause,
                row);
    }

    private NotWritten(String text, Exception cause, Row row) {
        super(text, new IOException(text, cause));
        this.row = row;
    }

    Row row() {
        return row;
    }
}
