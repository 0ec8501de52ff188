package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * Writes a run record as the run happens.
 *
 * <p>A session, a block, an event, a gap is on disk when its call returns; a place, an anchor, a counter goes with the next
 * of those. On a real rig the disk confirms each commit ({@code synchronous = FULL}); of a simulated run, which its seed
 * gives again, a power cut may take the last commits, a killed process none.
 *
 * <p>Beside the file, while it is written: SQLite's {@code -wal} and {@code -shm}; {@code .lock}, which keeps a second
 * writer away; {@code .reserve}, 8 MiB that are freed when the disk is full. Then the call that found it full throws, with
 * its row and everything before it in the record; further blocks are refused; events, gaps and {@link #finish} still work.
 */
public final class SqliteRunWriter implements RunWriter {
    private final Path file;
    private final RunLock lock;
    private final Reserve reserve;
    private final Connection connection;
    private final AppendedRows rows;
    private final BlockBytes bytes = new BlockBytes();
    private BlockTimes times;
    private boolean sessionNeeded;
    private boolean grouping;
    private @Nullable SQLException failure;
    private boolean finished;
    private boolean open = true;

    /**
     * Creates the file of a run. Never overwrites.
     *
     * @param file under its final name at once, so that a long run can be watched; {@link #finish} marks it complete
     * @throws BadInput where the file exists or a value of the header cannot be
     * @throws UncheckedIOException where it cannot be written, or where less than the reserve is free; then nothing is left
     */
    public static SqliteRunWriter create(Path file, RunHeader header) {
        List<String> wrong = HeaderCheck.problems(header);
        if (!wrong.isEmpty()) {
            throw new BadInput(wrong.stream()
                    .map(w -> new Problem(file.toString(), 0, 0, w))
                    .toList());
        }
        RecordFile.refuseStrays(file);
        if (Files.exists(file)) {
            throw exists(file);
        }
        try {
            return opened(
                    file,
                    () -> {
                        appear(file, header);
                        return RecordConnection.open(file);
                    },
                    false);
        } catch (Taken e) {
            throw exists(file); // by another program, at this very moment: all that is there is its own
        } catch (RuntimeException e) {
            RecordFile.deleteAll(file);
            throw e;
        }
    }

    /**
     * Makes the record beside its place and puts it there whole, exclusively: a program killed at any moment leaves either no
     * record or one that opens. Its log stands there first, empty: a file that says WAL and has no log would look like one
     * that lost it.
     */
    private static void appear(Path file, RunHeader header) throws SQLException {
        Path begun = RecordFile.beside(file, RecordFile.BEGUN);
        try {
            Files.deleteIfExists(begun);
            RecordConnection.create(begun, header);
            Files.createFile(RecordFile.beside(file, "-wal"));
            putInPlace(begun, file);
        } catch (FileAlreadyExistsException e) {
            throw new Taken(e);
        } catch (IOException e) {
            throw new UncheckedIOException(file + ": the run record cannot be created: " + e.getMessage(), e);
        }
    }

    /** By a link, which never replaces another's file; a move only where a file system has no links, such as FAT. */
    private static void putInPlace(Path begun, Path file) throws IOException {
        boolean linked = false;
        try {
            Files.createLink(file, begun);
            linked = true;
        } catch (FileAlreadyExistsException e) {
            throw e;
        } catch (FileSystemException | UnsupportedOperationException e) {
            Files.move(begun, file); // refused where something is there
        }
        if (linked) {
            Files.delete(begun);
        }
    }

    /** The name was free a moment ago. */
    private static final class Taken extends RuntimeException {
        Taken(FileAlreadyExistsException cause) {
            super(cause);
        }
    }

    /**
     * Opens a record that was not finished, to go on with it in place; recovers what its {@code -wal} holds. The next call
     * must be {@link #session}.
     *
     * @throws BadInput where the record is finished (a sealed record is never changed), is written by another program at this
     *     moment, was written in version 1, is damaged or is none; says what to do. Nothing was changed
     * @throws UncheckedIOException where it cannot be written
     */
    public static SqliteRunWriter resume(Path file) {
        GoingOn.refuseUnfit(file); // before a lock is left beside something else
        return opened(
                file,
                () -> {
                    GoingOn.refuseUnsound(file);
                    return RecordConnection.open(file);
                },
                true);
    }

    /**
     * Copies a record that ended before its script was done into a new one, to go on with there: all its rows but for the end
     * and the seal, and one fact more, {@code continues}, with the digest of the old. The old one is not changed; it may be of
     * version 1. The next call must be {@link #session}.
     *
     * @param finished or left by a killed program
     * @param newFile created; never overwritten
     * @throws BadInput where the old one is complete, damaged, written at this moment or none, or where the new file exists
     * @throws UncheckedIOException where the new one cannot be written; then it is not there
     */
    public static SqliteRunWriter continueFrom(Path finished, Path newFile) {
        RecordFile.refuseStrays(newFile);
        if (Files.exists(newFile)) {
            throw exists(newFile);
        }
        GoingOn.copy(finished, newFile);
        try {
            return opened(newFile, () -> RecordConnection.open(newFile), true);
        } catch (RuntimeException e) {
            RecordFile.deleteAll(newFile);
            throw e;
        }
    }

    private interface Connecting {
        Connection connect() throws SQLException;
    }

    /** Takes the lock, then the reserve, then the connection; gives all back where one cannot be had. */
    private static SqliteRunWriter opened(Path file, Connecting connecting, boolean again) {
        RunLock lock = RunLock.take(file);
        Connection connection = null;
        Reserve reserve = null;
        try {
            reserve = Reserve.keep(file);
            connection = connecting.connect();
            return new SqliteRunWriter(file, lock, reserve, connection, again);
        } catch (SQLException | RuntimeException e) {
            if (reserve != null) {
                reserve.close();
            }
            RecordFile.close(connection);
            lock.close();
            throw e instanceof RuntimeException unchecked
                    ? unchecked
                    : new NotWritten(file, e, NotWritten.Row.LEFT_OUT);
        }
    }

    private SqliteRunWriter(Path file, RunLock lock, Reserve reserve, Connection connection, boolean again)
            throws SQLException {
        this.file = file;
        this.lock = lock;
        this.reserve = reserve;
        this.connection = connection;
        rows = new AppendedRows(connection);
        times = BlockTimes.after(connection);
        sessionNeeded = again;
    }

    @Override
    public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {
        times.checkSession(atMicros);
        write("session", rows.last("block") + 1, atMicros, offsetMicros, utcMicros, cause);
        sessionNeeded = false;
        commit();
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        int count = samples.length / 4;
        if (samples.length % 4 != 0 || count == 0 || count > RecordSchema.MAX_BLOCK_SAMPLES) {
            throw new IllegalArgumentException("a block holds 1 to " + RecordSchema.MAX_BLOCK_SAMPLES
                    + " samples of 4 channels: samples.length=" + samples.length);
        }
        SQLException before = failure;
        if (before != null) {
            throw new NotWritten(file, before, NotWritten.Row.LEFT_OUT);
        }
        BlockTimes after = times.then(firstMicros, intervalNanos, count);
        byte[] blob = BlockBytes.bytes(samples);
        write(
                "block",
                blockNumber,
                firstMicros,
                intervalNanos,
                count,
                bytes.crc32c(blockNumber, firstMicros, intervalNanos, count, blob),
                blob);
        times = after;
        commit();
    }

    @Override
    public void event(RunEvent e) {
        write(
                "event",
                e.atMicros(),
                e.kind(),
                e.value(),
                e.from(),
                e.to(),
                e.cycle(),
                e.step(),
                e.supplyMv(),
                e.text());
        commit();
    }

    @Override
    public void gap(long fromMicros, long toMicros, long samples, String cause) {
        write("gap", fromMicros, toMicros, samples, cause);
        commit();
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        write("anchor", rigMicros, utcMicros);
    }

    @Override
    public void place(int action, long atMicros) {
        write("place", action, atMicros);
    }

    @Override
    public void counter(String name, long value) {
        write("counter", name, value);
    }

    /** Writes rows in one commit: what several calls make in {@code writing}. */
    void together(Runnable writing) {
        grouping = true;
        try {
            writing.run();
        } finally {
            grouping = false;
        }
        commit();
    }

    /**
     * {@inheritDoc}
     *
     * <p>Seals: SHA-256 over the rows, everything into the one file, no journal beside it. While another program reads
     * the record its {@code -wal} may stay, and so where a full disk leaves no room; the record is complete all the same.
     */
    @Override
    public void finish(String end) {
        requireOpen();
        sessionNeeded = false; // it may end before anything came
        lasting("finish", end);
        try {
            lasting("seal", RecordScan.digest(file.toString(), connection, RecordSchema.VERSION));
        } catch (SQLException e) {
            throw new NotWritten(file, e, NotWritten.Row.LEFT_OUT);
        }
        finished = true;
        close();
    }

    /** A row that must be in, also when the disk is found full by it. */
    private void lasting(String table, String value) {
        try {
            write(table, value);
            commit();
        } catch (NotWritten e) {
            if (e.row() != NotWritten.Row.IN) {
                throw e;
            }
        }
    }

    @Override
    public void close() {
        if (!open) {
            return;
        }
        try {
            commit();
        } finally {
            open = false;
            reserve.close(); // before the log is copied into the file
            try (connection) {
                rows.close();
                connection.setAutoCommit(true);
                try (Statement sql = connection.createStatement()) {
                    RecordConnection.intoOneFile(sql);
                }
            } catch (SQLException e) {
                throw new NotWritten(file, e, NotWritten.Row.LEFT_OUT);
            } finally {
                if (finished) {
                    lock.closeForGood();
                } else {
                    lock.close();
                }
            }
        }
    }

    private void write(String table, Object... values) {
        requireOpen();
        if (sessionNeeded && !table.equals("session")) {
            throw new IllegalStateException("what a run goes on with begins with a session: file=" + file);
        }
        try {
            rows.add(table, values);
        } catch (SQLException e) {
            throw rescued(e);
        }
    }

    private void commit() {
        if (grouping) {
            return;
        }
        try {
            rows.commit();
        } catch (SQLException e) {
            throw rescued(e);
        }
    }

    /** Frees the reserve where the disk is full, writes what failed once more, and says how far that went. */
    private NotWritten rescued(SQLException found) {
        failure = found;
        if (!AppendedRows.lacksRoom(found)) {
            return new NotWritten(file, found, NotWritten.Row.LEFT_OUT);
        }
        if (!reserve.release()) {
            return new NotWritten(file, found, NotWritten.Row.WAITING);
        }
        try {
            rows.again();
            return new NotWritten(file, found, NotWritten.Row.IN);
        } catch (SQLException second) {
            found.addSuppressed(second);
            return new NotWritten(file, found, NotWritten.Row.WAITING);
        }
    }

    private void requireOpen() {
        if (!open) {
            throw new IllegalStateException("the record is closed: file=" + file);
        }
    }

    private static BadInput exists(Path file) {
        return RecordFile.bad(file, "exists; a run record is never overwritten. Choose another folder or name.");
    }
}
