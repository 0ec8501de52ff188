package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.shiftstand.document.BadInput;

/**
 * Says that a record is being written: a lock on {@code NAME.run.lock}, which the system frees when the process is gone,
 * however it went. The file alone means nothing and may stay after a crash.
 *
 * <p>A file of its own, since closing any handle of a file frees all locks of the process on it (POSIX), and a record may be
 * read by the process that writes it.
 */
final class RunLock implements AutoCloseable {
    static final String SUFFIX = ".lock";

    // Far behind the text, so that others can read it also where locks are enforced.
    private static final long LOCKED_BYTE = 1L << 40;

    // For the same reason nobody in this process may open a lock file that this process holds.
    private static final Set<Path> HELD = ConcurrentHashMap.newKeySet();

    private final Path key;
    private final Path file;
    private final FileChannel channel;

    private RunLock(Path key, Path file, FileChannel channel) {
        this.key = key;
        this.file = file;
        this.channel = channel;
    }

    /**
     * Takes the lock of a record; does not wait.
     *
     * @throws BadInput where the record is being written
     * @throws UncheckedIOException where no lock can be had at all
     */
    static RunLock take(Path record) {
        Path file = RecordFile.beside(record, SUFFIX);
        Path key = file.toAbsolutePath().normalize();
        if (!HELD.add(key)) {
            throw beingWritten(record, "this program");
        }
        try {
            FileChannel channel = FileChannel.open(
                    file, StandardOpenOption.CREATE, StandardOpenOption.READ, StandardOpenOption.WRITE);
            FileLock lock = locked(channel);
            if (lock == null) {
                channel.close();
                throw beingWritten(record, holder(file));
            }
            channel.truncate(0);
            channel.write(ByteBuffer.wrap(
                    ("process " + ProcessHandle.current().pid() + "\n").getBytes(StandardCharsets.US_ASCII)));
            return new RunLock(key, file, channel);
        } catch (IOException e) {
            HELD.remove(key);
            throw new UncheckedIOException(file + ": the lock of the run record cannot be taken: " + e.getMessage(), e);
        } catch (RuntimeException e) {
            HELD.remove(key);
            throw e;
        }
    }

    private static @org.jspecify.annotations.Nullable FileLock locked(FileChannel channel) throws IOException {
        try {
            return channel.tryLock(LOCKED_BYTE, 1, false);
        } catch (OverlappingFileLockException e) {
            return null; // held by this process under another name of the same file
        }
    }

    private static String holder(Path file) {
        try {
            String holder = Files.readString(file, StandardCharsets.US_ASCII).strip();
            return holder.matches("process \\d{1,18}") ? holder : "another program";
        } catch (IOException e) {
            return "another program";
        }
    }

    private static BadInput beingWritten(Path record, String by) {
        return RecordFile.bad(record, "is being written by " + by + "; wait until that run is over, or end it first.");
    }

    /** Frees the lock. The file stays: whoever opened it a moment ago must not be left with a file that is gone. */
    @Override
    public void close() {
        try {
            channel.close();
        } catch (IOException e) {
            throw new UncheckedIOException(file + ": " + e.getMessage(), e);
        } finally {
            HELD.remove(key);
        }
    }

    /** Frees the lock of a record that nobody may go on with, and takes its file away. */
    void closeForGood() {
        close();
        try {
            Files.deleteIfExists(file);
        } catch (IOException e) {
            // it means nothing by itself
        }
    }
}
