package org.shiftstand.history;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Types;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.shiftstand.history.HistoryEntry.Clause;

/** How entries become rows. Knows nothing of transactions: those are {@link History}'s. */
final class EntryWriting {
    private final Connection connection;

    EntryWriting(Connection connection) {
        this.connection = connection;
    }

    /**
     * Adds entries that are not there yet; the caller ends the transaction.
     *
     * @param names disclosed operator names by digest; those that are to be forgotten are left out
     */
    History.Taken insert(List<HistoryEntry> entries, Map<String, String> names) throws SQLException {
        int added = 0;
        int held = 0;
        List<String> otherwise = new ArrayList<>();
        try (PreparedStatement run =
                        connection.prepareStatement("INSERT INTO run VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?,"
                                + " ?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (run_key) DO NOTHING");
                PreparedStatement clause =
                        connection.prepareStatement("INSERT INTO clause VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
                PreparedStatement same =
                        connection.prepareStatement("SELECT result_sha256 FROM run WHERE run_key = ?")) {
            for (HistoryEntry entry : entries) {
                set(run, entry);
                if (run.executeUpdate() == 1) {
                    added++;
                    insertClauses(clause, entry);
                } else {
                    same.setString(1, entry.key());
                    try (ResultSet rows = same.executeQuery()) {
                        boolean alike = rows.next() && entry.resultSha256().equals(rows.getString(1));
                        held += alike ? 1 : 0;
                        if (!alike) {
                            otherwise.add(entry.key());
                        }
                    }
                }
            }
        }
        disclose(names);
        return new History.Taken(added, held, otherwise);
    }

    private void disclose(Map<String, String> names) throws SQLException {
        for (Map.Entry<String, String> name : new TreeMap<>(names).entrySet()) {
            update(
                    "INSERT INTO operator_name SELECT digest, name FROM (SELECT CAST(? AS VARCHAR(80)) AS digest,"
                            + " CAST(? AS TEXT) AS name) AS disclosed WHERE NOT EXISTS"
                            + " (SELECT 1 FROM forgotten WHERE forgotten.digest = disclosed.digest)"
                            + " ON CONFLICT (digest) DO NOTHING",
                    name.getKey(),
                    clean(name.getValue()));
        }
    }

    private static void set(PreparedStatement run, HistoryEntry entry) throws SQLException {
        Object[] values = {
            entry.id(),
            entry.key(),
            entry.resultSha256(),
            clean(entry.unit()),
            clean(entry.kind()),
            clean(entry.firmware()),
            clean(entry.bench()),
            entry.operator(),
            entry.simulated() ? 1 : 0,
            entry.startedMicros().isPresent() ? entry.startedMicros().getAsLong() : null,
            clean(entry.spec()),
            entry.specVersion(),
            entry.verdict(),
            clean(entry.reason()),
            clean(entry.software()),
            entry.shifts(),
            entry.landed(),
            clean(entry.clausesThat("fail")),
            clean(entry.clausesThat("no-verdict")),
            clean(entry.place())
        };
        for (int i = 0; i < values.length; i++) {
            if (values[i] == null) {
                run.setNull(i + 1, Types.BIGINT);
            } else {
                run.setObject(i + 1, values[i]);
            }
        }
    }

    /** PostgreSQL takes no NUL in a text, and columns have their width. */
    private static String clean(String text) {
        return text.replace('\0', '?');
    }

    private static void insertClauses(PreparedStatement sql, HistoryEntry entry) throws SQLException {
        int place = 0;
        for (Clause clause : entry.clauses()) {
            place++;
            sql.setString(1, clean(clause.id()));
            sql.setLong(2, entry.id());
            sql.setInt(3, place);
            sql.setString(4, clause.verdict());
            set(sql, 5, clause.value());
            set(sql, 6, clause.margin());
            sql.setString(7, clean(clause.unit()));
            set(sql, 8, clause.atLeast());
            set(sql, 9, clause.atMost());
            sql.setString(10, clean(clause.worst()));
            if (entry.startedMicros().isPresent()) {
                sql.setLong(11, entry.startedMicros().getAsLong());
            } else {
                sql.setNull(11, Types.BIGINT);
            }
            sql.setInt(12, entry.simulated() ? 1 : 0);
            sql.addBatch();
        }
        sql.executeBatch();
    }

    private static void set(PreparedStatement sql, int at, OptionalDouble value) throws SQLException {
        if (value.isPresent()) {
            sql.setDouble(at, value.getAsDouble());
        } else {
            sql.setNull(at, Types.DOUBLE);
        }
    }

    /** Runs a statement with these values; how many rows it changed. */
    int update(String sql, Object... values) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            for (int i = 0; i < values.length; i++) {
                statement.setObject(i + 1, values[i]);
            }
            return statement.executeUpdate();
        }
    }
}
