package org.shiftstand.record;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.sqlite.SQLiteErrorCode;

/**
 * Rows added to the tables of a record, in commits. Goes on with the numbers that are there. Keeps what is not committed, so
 * that it can be written once more when a disk that was full has room again.
 */
final class AppendedRows implements AutoCloseable {
    private static final List<String> NUMBERED = List.of("session", "block", "event", "gap", "anchor", "place");

    private final Connection connection;
    private final Map<String, Into> tables = new LinkedHashMap<>();
    private final List<Row> uncommitted = new ArrayList<>();
    private boolean rolledBack; // then nothing of what is not committed is in the transaction

    /** @param connection without automatic commits */
    AppendedRows(Connection connection) throws SQLException {
        this.connection = connection;
        for (String table : NUMBERED) {
            tables.put(table, new Into(connection.prepareStatement(insert(table)), true, lastNumber(table)));
        }
        tables.put(
                "counter",
                new Into(
                        connection.prepareStatement(
                                insert("counter") + " ON CONFLICT (name) DO UPDATE SET value = excluded.value"),
                        false,
                        0));
        tables.put("finish", new Into(connection.prepareStatement(insert("finish")), false, 0));
        tables.put("seal", new Into(connection.prepareStatement("INSERT INTO seal (sha256) VALUES (?)"), false, 0));
    }

    /** One table to write to; the number of its last row where its rows have numbers. */
    private static final class Into {
        private final PreparedStatement statement;
        private final boolean numbered;
        private long last;

        Into(PreparedStatement statement, boolean numbered, long last) {
            this.statement = statement;
            this.numbered = numbered;
            this.last = last;
        }
    }

    private record Row(Into into, Object[] values) {
        void insert() throws SQLException {
            for (int i = 0; i < values.length; i++) {
                into.statement.setObject(i + 1, values[i]);
            }
            into.statement.executeUpdate();
        }
    }

    /** Number of the last row of a table; 0 without rows. */
    long last(String table) {
        return into(table).last;
    }

    /**
     * Adds a row; its number comes first by itself.
     *
     * @throws SQLException where it cannot be written: for want of room, then it is kept for {@link #again}; or because it
     *     cannot be, then only this row is left out
     */
    void add(String table, Object... values) throws SQLException {
        Into into = into(table);
        Object[] all = values;
        if (into.numbered) {
            all = new Object[values.length + 1];
            all[0] = ++into.last;
            System.arraycopy(values, 0, all, 1, values.length);
        }
        Row row = new Row(into, all);
        uncommitted.add(row);
        if (rolledBack) {
            return; // with all others, by the next commit
        }
        try {
            row.insert();
        } catch (SQLException e) {
            if (lacksRoom(e)) {
                rollback();
            } else {
                uncommitted.remove(row);
                into.last -= into.numbered ? 1 : 0;
            }
            throw e;
        }
    }

    void commit() throws SQLException {
        if (rolledBack) {
            again();
            return;
        }
        try {
            connection.commit();
        } catch (SQLException e) {
            rollback();
            throw e;
        }
        uncommitted.clear();
    }

    /** Writes everything that was not committed once more, after a failure for want of room. */
    void again() throws SQLException {
        try {
            for (Row row : uncommitted) {
                row.insert();
            }
            connection.commit();
        } catch (SQLException e) {
            rollback();
            throw e;
        }
        rolledBack = false;
        uncommitted.clear();
    }

    /** Whether a failure is for want of room; some file systems say it in other words. */
    static boolean lacksRoom(SQLException e) {
        int primary = e.getErrorCode() & 0xFF; // the rest says which part of SQLite saw it
        return primary == SQLiteErrorCode.SQLITE_FULL.code || primary == SQLiteErrorCode.SQLITE_IOERR.code;
    }

    /** Ends a transaction that failed, if SQLite did not do so by itself, and begins another. */
    private void rollback() {
        rolledBack = true;
        try {
            connection.rollback();
        } catch (SQLException ended) {
            try (Statement sql = connection.createStatement()) {
                sql.execute("BEGIN");
            } catch (SQLException e) {
                // the next statement fails as well, and says why
            }
        }
    }

    private Into into(String table) {
        Into into = tables.get(table);
        if (into == null) {
            throw new IllegalArgumentException("no table that is written to: table=" + table);
        }
        return into;
    }

    private static String insert(String table) {
        return RecordSchema.table(table).insert();
    }

    private long lastNumber(String table) throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet rows = sql.executeQuery("SELECT coalesce(max(seq), 0) FROM " + table)) {
            rows.next();
            return rows.getLong(1);
        }
    }

    @Override
    public void close() throws SQLException {
        for (Into into : tables.values()) {
            into.statement.close();
        }
    }
}
