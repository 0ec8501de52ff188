package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;

/** How much room on the disk a run takes. */
public final class RecordRoom {
    // Measured: 9.2 bytes a sample at 512 Hz (64 samples a block), 9.5 at 4 kHz (124), 11.1 at 100 Hz (12); 8 are the
    // samples.
    // A page holds whole blocks only, so that up to a fifth of it stays empty. RecordRoomTest holds this to what is
    // written.
    private static final double BYTES_A_SAMPLE = 8 * 1.2;
    private static final int BYTES_A_BLOCK = 40;
    private static final int BLOCKS_A_SECOND = 8; // at least: a block is no longer than an eighth of a second
    private static final int MOST_SAMPLES_A_BLOCK = 124; // of a frame on the wire, 1024 bytes

    /** Header, texts, the log while the run goes on, and the reserve for its end. */
    private static final long FIXED_BYTES = (24L << 20) + Reserve.BYTES;

    private RecordRoom() {}

    /**
     * Bytes that a run takes while it goes on, with what it needs beside its file; a little above what was measured.
     *
     * @param seconds how long it lasts, 0 or above
     * @param rateHz samples a second
     */
    public static long bytes(double seconds, double rateHz) {
        if (!(seconds >= 0 && rateHz > 0 && seconds * rateHz < 1e15)) { // also refuses NaN
            throw new IllegalArgumentException("no such run: seconds=" + seconds + ", rateHz=" + rateHz);
        }
        double blocks = seconds * Math.max(BLOCKS_A_SECOND, rateHz / MOST_SAMPLES_A_BLOCK);
        return FIXED_BYTES + Math.round(seconds * rateHz * BYTES_A_SAMPLE + blocks * BYTES_A_BLOCK);
    }

    /**
     * Bytes that this program may still write in a folder.
     *
     * @param folder may be one that is still to be made
     * @throws UncheckedIOException where the system does not say
     */
    public static long usable(Path folder) {
        Path there = folder.toAbsolutePath();
        while (Files.notExists(there) && there.getParent() != null) {
            there = there.getParent();
        }
        try {
            return Files.getFileStore(there).getUsableSpace();
        } catch (IOException e) {
            throw new UncheckedIOException(
                    folder + ": the room on the disk cannot be told (" + e.getMessage()
                            + "). Check that the disk is there",
                    e);
        }
    }
}
