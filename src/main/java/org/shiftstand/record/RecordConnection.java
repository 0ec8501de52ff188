package org.shiftstand.record;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;
import java.util.TreeSet;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteErrorCode;

/** Connections to write a record through, in WAL mode and without automatic commits. */
final class RecordConnection {
    /** A page holds whole blocks only; at 4 KiB the largest block of the wire would leave more than a quarter of it empty. */
    static final int PAGE_BYTES = 8192;

    /** Pages of the log before it is copied into the file: half of what is kept for the end of a run. */
    private static final int LOG_PAGES = Reserve.BYTES / 2 / PAGE_BYTES;

    private RecordConnection() {}

    /** Makes the file of a new record: tables, header and first session are in it, and nothing is beside it. */
    static void create(Path file, RunHeader header) throws SQLException {
        try (Connection connection = connect(file, header.simulated());
                Statement sql = connection.createStatement()) {
            // First with a rollback journal, so that the file alone says what it is, whatever becomes of its -wal.
            sql.execute("PRAGMA page_size = " + PAGE_BYTES);
            sql.execute("PRAGMA application_id = " + RecordSchema.APPLICATION_ID);
            sql.execute("PRAGMA user_version = " + RecordSchema.VERSION);
            connection.setAutoCommit(false);
            for (String statement :
                    RecordSchema.statements(RecordSchema.VERSION).values()) {
                sql.execute(statement);
            }
            insertHeader(connection, header);
            insert(connection, "session", 1, 1, 0, 0, header.startUtcMicros(), "");
            connection.commit();
            connection.setAutoCommit(true);
            log(sql);
        }
    }

    /** To a record of the newest version that is there and may be written; recovers its log. */
    static Connection open(Path file) throws SQLException {
        Connection connection = connect(file, false);
        try (Statement sql = connection.createStatement()) {
            if (simulated(sql)) {
                sql.execute("PRAGMA synchronous = NORMAL");
            }
            log(sql);
            connection.setAutoCommit(false);
            return connection;
        } catch (SQLException e) {
            RecordFile.close(connection);
            throw e;
        }
    }

    /** With automatic commits, whatever the journal mode of the file is. */
    static Connection connect(Path file, boolean simulated) throws SQLException {
        SQLiteConfig config = new SQLiteConfig();
        config.setSynchronous(simulated ? SQLiteConfig.SynchronousMode.NORMAL : SQLiteConfig.SynchronousMode.FULL);
        config.setBusyTimeout(5000);
        return config.createConnection("jdbc:sqlite:" + RecordFile.uri(file));
    }

    private static boolean simulated(Statement sql) throws SQLException {
        try (ResultSet row = sql.executeQuery("SELECT simulated FROM run")) {
            return row.next() && row.getLong(1) != 0;
        }
    }

    /** Leaves a {@code -wal} only where somebody else reads the record at this moment, or where there is no room. */
    static void intoOneFile(Statement sql) throws SQLException {
        try (ResultSet done = sql.executeQuery("PRAGMA wal_checkpoint(TRUNCATE)")) {
            done.next();
        } catch (SQLException e) {
            if (primary(e) == SQLiteErrorCode.SQLITE_FULL.code) {
                return;
            }
            throw e;
        }
        sql.execute("PRAGMA busy_timeout = 200"); // a reader may stay for long; the record is complete without this
        try {
            journal(sql, "DELETE");
        } catch (SQLException e) {
            if (primary(e) != SQLiteErrorCode.SQLITE_BUSY.code && primary(e) != SQLiteErrorCode.SQLITE_LOCKED.code) {
                throw e;
            }
        }
    }

    static void insert(Connection connection, String table, Object... values) throws SQLException {
        try (PreparedStatement statement =
                connection.prepareStatement(RecordSchema.table(table).insert())) {
            for (int i = 0; i < values.length; i++) {
                statement.setObject(i + 1, values[i]);
            }
            statement.executeUpdate();
        }
    }

    private static int primary(SQLException e) {
        return e.getErrorCode() & 0xFF; // the rest of an error code says which part of SQLite saw it
    }

    private static void log(Statement sql) throws SQLException {
        journal(sql, "WAL");
        sql.execute("PRAGMA wal_autocheckpoint = " + LOG_PAGES);
    }

    private static void journal(Statement sql, String mode) throws SQLException {
        try (ResultSet result = sql.executeQuery("PRAGMA journal_mode = " + mode)) {
            if (!result.next() || !result.getString(1).equalsIgnoreCase(mode)) {
                throw new SQLException("journal mode " + mode + " was not taken on; is this a network drive?");
            }
        }
    }

    private static void insertHeader(Connection connection, RunHeader header) throws SQLException {
        insert(
                connection,
                "run",
                header.unit(),
                header.simulated() ? 1 : 0,
                header.startUtcMicros(),
                header.sampleIntervalNanos(),
                RecordSchema.CHANNELS,
                header.currentAPerCount(),
                header.supplyVPerCount());
        int seq = 0;
        for (Map.Entry<String, String> fact : header.identity().entrySet()) {
            insert(connection, "identity", ++seq, fact.getKey(), fact.getValue());
        }
        seq = 0;
        for (String role : new TreeSet<>(header.texts().keySet())) {
            String content = String.valueOf(header.texts().get(role));
            insert(
                    connection,
                    "text",
                    ++seq,
                    role,
                    header.textNames().getOrDefault(role, role),
                    RowDigest.of(content),
                    content);
        }
    }
}
