package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Random;

/**
 * Room on the disk that is kept for the end of a run: a file {@code NAME.run.reserve} that is deleted when the disk is full, so
 * that what came last, the reason and the seal still find room.
 */
final class Reserve implements AutoCloseable {
    static final String SUFFIX = ".reserve";

    /**
     * For the log to be copied into the file: half of it between two checkpoints, and as much again that it may have grown since
     * there was no room for one.
     */
    static final int BYTES = 8 << 20;

    private final Path file;
    private boolean kept = true;

    private Reserve(Path file) {
        this.file = file;
    }

    /**
     * Takes the room.
     *
     * @throws UncheckedIOException where there is not even that much
     */
    static Reserve keep(Path record) {
        Path file = RecordFile.beside(record, SUFFIX);
        try (FileChannel channel = FileChannel.open(
                file, StandardOpenOption.CREATE, StandardOpenOption.WRITE, StandardOpenOption.TRUNCATE_EXISTING)) {
            // Not zeros: a file system may store those without taking room.
            byte[] some = new byte[1 << 20];
            new Random(0).nextBytes(some);
            for (int written = 0; written < BYTES; ) {
                written += channel.write(ByteBuffer.wrap(some, 0, Math.min(some.length, BYTES - written)));
            }
            return new Reserve(file);
        } catch (IOException e) {
            String text = file + ": no room for the " + (BYTES >> 20) + " MiB that the end of a run may need: "
                    + e.getMessage() + ". Make room, or record to another disk.";
            IOException cause = new IOException(text, e);
            try {
                Files.deleteIfExists(file);
            } catch (IOException second) {
                cause.addSuppressed(second);
            }
            throw new UncheckedIOException(text, cause);
        }
    }

    /** Gives the room away. @return false where it was given before */
    boolean release() {
        boolean released = kept;
        kept = false;
        try {
            return Files.deleteIfExists(file) && released;
        } catch (IOException e) {
            return false; // then the record ends with what there is
        }
    }

    @Override
    public void close() {
        release();
    }
}
