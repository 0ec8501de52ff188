package org.shiftstand.cli;

import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.function.LongSupplier;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * The room that a run needs on its disk, against the room that there is.
 *
 * <p>Beside the record go the report, the result, the shift table and the log: {@link #BESIDE_BYTES}. Safe to use from several
 * threads where the supplier is.
 */
final class Room {
    /** Report, result, table and log of eight hours took 2.1 MiB; ten times that. */
    static final long BESIDE_BYTES = 20L << 20;

    /** With less than this left a run is brought to its end: enough to close the record and to write what goes beside it. */
    static final long LEAST_BYTES = 2 * BESIDE_BYTES;

    private final Path folder;
    private final long recordBytes;
    private final LongSupplier usable;

    /**
     * @param folder the run's folder, or the one it will be made in
     * @param recordBytes what the record of the whole run takes
     * @param usable bytes that may still be written there
     */
    Room(Path folder, long recordBytes, LongSupplier usable) {
        this.folder = folder;
        this.recordBytes = recordBytes;
        this.usable = usable;
    }

    /**
     * Before anything starts.
     *
     * @throws BadInput where there is less room than the run needs; says both
     */
    void refuse() {
        long needed = recordBytes + LEAST_BYTES;
        long there = there();
        if (there < needed) {
            throw new BadInput(new Problem(
                    folder.toString(),
                    0,
                    0,
                    "has not the room for this run: it takes about " + size(needed) + ", " + size(there)
                            + " are free; nothing was started. Make room, or choose another folder with --out"));
        }
    }

    /** How it stands while a run goes on. */
    sealed interface Finding {
        record Enough() implements Finding {}

        /** What is left of the run will not fit: a person may make room yet. */
        record Short(String text) implements Finding {}

        /** The run must end now, as long as there is room to end it well. */
        record Full(String text) implements Finding {}
    }

    /**
     * Looks while the run goes on.
     *
     * @param left share of the run that is still to come, 0 to 1
     */
    Finding look(double left) {
        long there = there();
        if (there < LEAST_BYTES) {
            return new Finding.Full("only " + size(there) + " are free in " + folder
                    + ": the run is stopped as long as there is room to close its record");
        }
        long needed = Math.round(recordBytes * Math.max(0, Math.min(1, left))) + LEAST_BYTES;
        return there < needed
                ? new Finding.Short("the rest of the run takes about " + size(needed) + ", only " + size(there)
                        + " are free in " + folder + "; make room, or the run will be stopped early")
                : new Finding.Enough();
    }

    /** Where the system does not say how much there is, nothing is refused for it. */
    private long there() {
        try {
            return usable.getAsLong();
        } catch (UncheckedIOException e) {
            return Long.MAX_VALUE;
        }
    }

    /** {@code 1.2 GiB}. */
    static String size(long bytes) {
        double mib = bytes / 1048576.0;
        return mib >= 1024
                ? String.format(Locale.ROOT, "%.1f GiB", mib / 1024)
                : mib >= 10 ? String.format(Locale.ROOT, "%.0f MiB", mib) : String.format(Locale.ROOT, "%.1f MiB", mib);
    }
}
