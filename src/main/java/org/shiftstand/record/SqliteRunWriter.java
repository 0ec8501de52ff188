package org.shiftstand.record;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import org.shiftstand.document.BadInput;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;

/**
 * Writes a run record as the run happens.
 *
 * <p>A block, an event, a gap is on disk when its call returns; a place, an anchor, a counter goes with the next of
 * those. On a real rig the disk confirms each commit ({@code synchronous = FULL}); of a simulated run, which its seed
 * gives again, a power cut may take the last commits, a killed process none.
 */
public final class SqliteRunWriter implements RunWriter {
    private final Path file;
    private final Connection connection;
    private final PreparedStatement block;
    private final PreparedStatement event;
    private final PreparedStatement gap;
    private final PreparedStatement anchor;
    private final PreparedStatement place;
    private final PreparedStatement counter;
    private final BlockBytes bytes = new BlockBytes();
    private long blocks;
    private long events;
    private long gaps;
    private long anchors;
    private long places;
    private boolean open = true;

    /**
     * Creates the file of a run. Never overwrites.
     *
     * @param file under its final name at once, so that a long run can be watched; {@link #finish} marks it complete
     * @throws BadInput where the file exists or a value of the header cannot be
     * @throws UncheckedIOException where it cannot be written
     */
    public static SqliteRunWriter create(Path file, RunHeader header) {
        List<String> wrong = HeaderCheck.problems(header);
        if (!wrong.isEmpty()) {
            throw new BadInput(wrong.stream()
                    .map(w -> new org.shiftstand.document.Problem(file.toString(), 0, 0, w))
                    .toList());
        }
        createExclusively(file);
        try {
            return new SqliteRunWriter(file, header);
        } catch (SQLException e) {
            throw failed(file, e);
        }
    }

    private SqliteRunWriter(Path file, RunHeader header) throws SQLException {
        this.file = file;
        SQLiteConfig config = new SQLiteConfig();
        config.setSynchronous(
                header.simulated() ? SQLiteConfig.SynchronousMode.NORMAL : SQLiteConfig.SynchronousMode.FULL);
        config.setBusyTimeout(5000);
        connection = config.createConnection(
                "jdbc:sqlite:file:" + file.toAbsolutePath().toUri().getRawPath());
        try (Statement sql = connection.createStatement()) {
            // First with a rollback journal, so that the file alone says what it is, whatever becomes of its -wal.
            sql.execute("PRAGMA application_id = " + RecordSchema.APPLICATION_ID);
            sql.execute("PRAGMA user_version = " + RecordSchema.VERSION);
            connection.setAutoCommit(false);
            for (String statement : RecordSchema.statements().values()) {
                sql.execute(statement);
            }
            insertHeader(header);
            connection.commit();
            connection.setAutoCommit(true);
            journal(sql, "WAL");
            connection.setAutoCommit(false);
        }
        block = prepare("block");
        event = prepare("event");
        gap = prepare("gap");
        anchor = prepare("anchor");
        place = prepare("place");
        counter = connection.prepareStatement(
                RecordSchema.table("counter").insert() + " ON CONFLICT (name) DO UPDATE SET value = excluded.value");
    }

    @Override
    public void session(long atMicros, long offsetMicros, long utcMicros, String cause) {
        throw new UnsupportedOperationException("version 1 of the record holds one session");
    }

    @Override
    public void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples) {
        int count = samples.length / 4;
        if (samples.length % 4 != 0 || count == 0 || count > RecordSchema.MAX_BLOCK_SAMPLES) {
            throw new IllegalArgumentException("a block holds 1 to " + RecordSchema.MAX_BLOCK_SAMPLES
                    + " samples of 4 channels: samples.length=" + samples.length);
        }
        byte[] blob = BlockBytes.bytes(samples);
        put(
                block,
                ++blocks,
                blockNumber,
                firstMicros,
                intervalNanos,
                count,
                bytes.crc32c(blockNumber, firstMicros, intervalNanos, count, blob),
                blob);
        commit();
    }

    @Override
    public void event(RunEvent e) {
        put(
                event,
                ++events,
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
        put(gap, ++gaps, fromMicros, toMicros, samples, cause);
        commit();
    }

    @Override
    public void anchor(long rigMicros, long utcMicros) {
        put(anchor, ++anchors, rigMicros, utcMicros);
    }

    @Override
    public void place(int action, long atMicros) {
        put(place, ++places, action, atMicros);
    }

    @Override
    public void counter(String name, long value) {
        put(counter, name, value);
    }

    /**
     * {@inheritDoc}
     *
     * <p>Seals: SHA-256 over the rows, everything into the one file, no journal beside it. While another program reads
     * the record its {@code -wal} may stay; the record is complete all the same.
     */
    @Override
    public void finish(String end) {
        try (PreparedStatement finish = prepare("finish")) {
            put(finish, end);
            commit();
            String sha256 = RecordScan.digest(file.toString(), connection);
            try (PreparedStatement seal = connection.prepareStatement("INSERT INTO seal (sha256) VALUES (?)")) {
                put(seal, sha256);
                commit();
            }
        } catch (SQLException e) {
            throw failed(file, e);
        }
        close();
    }

    @Override
    public void close() {
        if (!open) {
            return;
        }
        open = false;
        try (connection) {
            connection.commit();
            for (PreparedStatement statement : List.of(block, event, gap, anchor, place, counter)) {
                statement.close();
            }
            connection.setAutoCommit(true);
            try (Statement sql = connection.createStatement()) {
                intoOneFile(sql);
            }
        } catch (SQLException e) {
            throw failed(file, e);
        }
    }

    /** Leaves a {@code -wal} only where somebody else reads the record at this moment. */
    private static void intoOneFile(Statement sql) throws SQLException {
        try (ResultSet done = sql.executeQuery("PRAGMA wal_checkpoint(TRUNCATE)")) {
            done.next();
        }
        sql.execute("PRAGMA busy_timeout = 200"); // a reader may stay for long; the record is complete without this
        try {
            journal(sql, "DELETE");
        } catch (SQLException e) {
            if (e.getErrorCode() != SQLiteErrorCode.SQLITE_BUSY.code
                    && e.getErrorCode() != SQLiteErrorCode.SQLITE_LOCKED.code) {
                throw e;
            }
        }
    }

    private static void journal(Statement sql, String mode) throws SQLException {
        try (ResultSet result = sql.executeQuery("PRAGMA journal_mode = " + mode)) {
            if (!result.next() || !result.getString(1).equalsIgnoreCase(mode)) {
                throw new SQLException("journal mode " + mode + " was not taken on; is this a network drive?");
            }
        }
    }

    private void insertHeader(RunHeader header) throws SQLException {
        try (PreparedStatement run = prepare("run")) {
            put(
                    run,
                    header.unit(),
                    header.simulated() ? 1 : 0,
                    header.startUtcMicros(),
                    header.sampleIntervalNanos(),
                    RecordSchema.CHANNELS,
                    header.currentAPerCount(),
                    header.supplyVPerCount());
        }
        try (PreparedStatement identity = prepare("identity")) {
            int seq = 0;
            for (Map.Entry<String, String> fact : header.identity().entrySet()) {
                put(identity, ++seq, fact.getKey(), fact.getValue());
            }
        }
        try (PreparedStatement text = prepare("text")) {
            int seq = 0;
            for (String role : new java.util.TreeSet<>(header.texts().keySet())) {
                String content = String.valueOf(header.texts().get(role));
                put(text, ++seq, role, header.textNames().getOrDefault(role, role), RowDigest.of(content), content);
            }
        }
    }

    private PreparedStatement prepare(String table) throws SQLException {
        return connection.prepareStatement(RecordSchema.table(table).insert());
    }

    private void put(PreparedStatement statement, Object... values) {
        if (!open) {
            throw new IllegalStateException("the record is closed: file=" + file);
        }
        try {
            for (int i = 0; i < values.length; i++) {
                statement.setObject(i + 1, values[i]);
            }
            statement.executeUpdate();
        } catch (SQLException e) {
            throw failed(file, e);
        }
    }

    private void commit() {
        try {
            connection.commit();
        } catch (SQLException e) {
            throw failed(file, e);
        }
    }

    private static void createExclusively(Path file) {
        for (String suffix : List.of("-wal", "-journal", "-shm")) {
            Path stray = RecordFile.beside(file, suffix);
            if (Files.exists(stray)) {
                throw RecordFile.bad(
                        stray, "is left from another record; it belongs to a file that is not here. Move it away.");
            }
        }
        try {
            Files.createFile(file);
        } catch (FileAlreadyExistsException e) {
            throw RecordFile.bad(file, "exists; a run record is never overwritten. Choose another folder or name.");
        } catch (IOException e) {
            throw new UncheckedIOException(file + ": the run record cannot be created: " + e.getMessage(), e);
        }
    }

    private static UncheckedIOException failed(Path file, SQLException e) {
        String text = file + ": the run record cannot be written: " + e.getMessage();
        return new UncheckedIOException(text, new IOException(text, e));
    }
}
