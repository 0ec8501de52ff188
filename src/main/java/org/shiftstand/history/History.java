package org.shiftstand.history;

import java.io.IOException;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import java.util.TreeMap;
import org.shiftstand.document.BadInput;
import org.shiftstand.history.HistoryEntry.Clause;

/**
 * An open history. Not thread-safe: each bench, and each thread, has one of its own. Every call that writes is one
 * transaction; reading never keeps a writer waiting, nor waits for one.
 *
 * <p>Values only ever reach the database as parameters.
 */
public final class History implements AutoCloseable {
    private static final String RUN_COLUMNS =
            "run.id, run.run_key, run.result_sha256, run.unit, run.kind, run.firmware,"
                    + " run.bench, run.operator, run.simulated, run.started_micros, run.spec, run.spec_version, run.verdict,"
                    + " run.reason, run.software, run.shifts, run.landed, run.place";

    /** A hundred thousand texts would take as long to fetch as everything else of a clause's course. */
    private static final List<String> VERDICTS = List.of("", "pass", "fail", "no-verdict");

    private static final String CODE_OF_VERDICT =
            "CASE clause.verdict WHEN 'pass' THEN 1 WHEN 'fail' THEN 2 WHEN 'no-verdict' THEN 3 ELSE 0 END";

    private final Database database;
    private final Connection connection;
    private final EntryWriting writing;

    private History(Database database, Connection connection) {
        this.database = database;
        this.connection = connection;
        writing = new EntryWriting(connection);
    }

    /**
     * Opens it; blocks until the server answers, at most a few seconds.
     *
     * @throws SQLException where it cannot be reached
     */
    public static History open(Database database) throws SQLException {
        Connection connection = database.connect();
        return new History(database, connection);
    }

    /**
     * The same for a command that needs it now.
     *
     * @throws BadInput where it cannot be reached
     */
    public static History need(Database database) {
        try {
            return open(database);
        } catch (SQLException e) {
            throw broken(database, e);
        }
    }

    public static BadInput broken(Database database, SQLException e) {
        return Database.bad(
                database.shown(),
                "the history cannot be read or written: "
                        + String.valueOf(e.getMessage()).lines().findFirst().orElse("")
                        + ". Is the server there, and are user and password right (SHIFTSTAND_HISTORY_USER,"
                        + " SHIFTSTAND_HISTORY_PASSWORD)?");
    }

    /**
     * How entries were taken.
     *
     * @param added new ones
     * @param held runs that were there already, with the same result
     * @param otherwise keys of runs that are there with another result; the first one stays
     */
    public record Taken(int added, int held, List<String> otherwise) {}

    /**
     * Adds entries that are not there yet, all or none.
     *
     * @param names disclosed operator names by digest; those that are to be forgotten are left out
     */
    public Taken add(List<HistoryEntry> entries, Map<String, String> names) throws SQLException {
        return inOne(() -> writing.insert(entries, names));
    }

    /** Gives results, some at a time. */
    public interface Source {
        void feed(FoundResults.Some to) throws SQLException, IOException;
    }

    /**
     * Empties it and takes what a source gives, all in one transaction, so that nobody ever sees it half full; what is to stay
     * forgotten stays so.
     */
    public Taken anew(Source source) throws SQLException, IOException {
        connection.setAutoCommit(false);
        try {
            for (String table : List.of("clause", "run", "operator_name")) {
                writing.update("DELETE FROM " + table);
            }
            Sum sum = new Sum();
            source.feed((entries, names) -> sum.add(writing.insert(entries, names)));
            connection.commit();
            connection.setAutoCommit(true);
            return sum.taken();
        } catch (SQLException | IOException | RuntimeException e) {
            rollBack(e);
            throw e;
        }
    }

    /** Adds what a source gives, some at a time: others may write in between. */
    public Taken addAll(Source source) throws SQLException, IOException {
        Sum sum = new Sum();
        source.feed((entries, names) -> sum.add(add(entries, names)));
        return sum.taken();
    }

    private static final class Sum {
        private int added;
        private int held;
        private final List<String> otherwise = new ArrayList<>();

        void add(Taken taken) {
            added += taken.added();
            held += taken.held();
            otherwise.addAll(taken.otherwise());
        }

        Taken taken() {
            return new Taken(added, held, otherwise);
        }
    }

    /** How many runs are meant. */
    public int count(Filter filter) throws SQLException {
        List<Integer> count =
                query("SELECT COUNT(*) FROM run WHERE " + filter.condition().sql(), filter, rows -> rows.getInt(1));
        return count.get(0);
    }

    /** Runs without their clauses, newest first, those of no known date last. */
    public List<HistoryEntry> runs(Filter filter, int most) throws SQLException {
        return query(
                "SELECT " + RUN_COLUMNS + " FROM run WHERE "
                        + filter.condition().sql() + " ORDER BY run.started_micros DESC NULLS LAST, run.run_key LIMIT "
                        + most,
                filter,
                rows -> entry(rows, List.of()));
    }

    /** Takes a run. */
    public interface EachRun {
        void take(HistoryEntry run) throws IOException;
    }

    /**
     * Every run with its clauses, in the order of their keys; memory does not grow with their number.
     *
     * @return how many
     */
    public int each(Filter filter, EachRun each) throws SQLException, IOException {
        int count = 0;
        String after = "";
        while (true) {
            List<HistoryEntry> some = query(
                    "SELECT " + RUN_COLUMNS + " FROM run WHERE run.run_key > ? AND "
                            + filter.condition().sql() + " ORDER BY run.run_key LIMIT 500",
                    filter,
                    rows -> entry(rows, List.of()),
                    after);
            for (HistoryEntry run : some) {
                each.take(run.with(clauses(run.id())));
                after = run.key();
                count++;
            }
            if (some.isEmpty()) {
                return count;
            }
        }
    }

    /** Runs of a unit, or those whose key begins so, with their clauses; newest first. */
    public List<HistoryEntry> show(String unitOrKey, int most) throws SQLException {
        List<HistoryEntry> found = new ArrayList<>();
        try (PreparedStatement sql = connection.prepareStatement("SELECT " + RUN_COLUMNS
                + " FROM run WHERE run.unit = ? OR (run.run_key >= ? AND run.run_key < ?)"
                + " ORDER BY run.started_micros DESC NULLS LAST, run.run_key LIMIT " + most)) {
            boolean key = unitOrKey.matches("[0-9a-f]{8,64}");
            sql.setString(1, unitOrKey);
            sql.setString(2, key ? unitOrKey : "~");
            sql.setString(3, key ? unitOrKey + "g" : "~");
            try (ResultSet rows = sql.executeQuery()) {
                while (rows.next()) {
                    found.add(entry(rows, List.of()));
                }
            }
        }
        List<HistoryEntry> whole = new ArrayList<>();
        for (HistoryEntry run : found) {
            whole.add(run.with(clauses(run.id())));
        }
        return whole;
    }

    private List<Clause> clauses(long run) throws SQLException {
        List<Clause> clauses = new ArrayList<>();
        try (PreparedStatement sql =
                connection.prepareStatement("SELECT clause, verdict, value, margin, unit, at_least,"
                        + " at_most, worst FROM clause WHERE run_id = ? ORDER BY place")) {
            sql.setLong(1, run);
            try (ResultSet rows = sql.executeQuery()) {
                while (rows.next()) {
                    clauses.add(new Clause(
                            text(rows, 1),
                            text(rows, 2),
                            number(rows, 3),
                            number(rows, 4),
                            text(rows, 5),
                            number(rows, 6),
                            number(rows, 7),
                            text(rows, 8)));
                }
            }
        }
        return clauses;
    }

    /**
     * How many first and last runs of units ended so, on one day.
     *
     * @param day since 1970-01-01, UTC; empty for a date that is not known
     * @param first runs that were the first of their unit
     * @param last runs that were the last of their unit
     */
    record Outcome(OptionalLong day, String firmware, String verdict, int first, int last) {}

    /**
     * The first and the last run of each unit; runs of no known date come before all others. Counted by the database: a hundred
     * thousand runs come down to a few hundred rows.
     */
    List<Outcome> outcomes(Filter filter) throws SQLException {
        String order = "(PARTITION BY run.unit ORDER BY run.started_micros NULLS FIRST, run.run_key)";
        return query(
                "WITH place AS (SELECT run.verdict AS verdict, run.firmware AS firmware, run.started_micros / 86400000000 AS day,"
                        + " LAG(1) OVER " + order + " AS before, LEAD(1) OVER " + order
                        + " AS after FROM run WHERE " + filter.condition().sql() + ") SELECT day, firmware, verdict,"
                        + " SUM(CASE WHEN before IS NULL THEN 1 ELSE 0 END), SUM(CASE WHEN after IS NULL THEN 1 ELSE 0 END)"
                        + " FROM place WHERE before IS NULL OR after IS NULL"
                        + " GROUP BY day, firmware, verdict ORDER BY day NULLS FIRST, firmware, verdict",
                filter,
                rows -> new Outcome(micros(rows, 1), text(rows, 2), text(rows, 3), rows.getInt(4), rows.getInt(5)));
    }

    /** How many runs have no known date. */
    int undated(Filter filter) throws SQLException {
        return query(
                        "SELECT COUNT(*) FROM run WHERE run.started_micros IS NULL AND "
                                + filter.condition().sql(),
                        filter,
                        rows -> rows.getInt(1))
                .get(0);
    }

    /**
     * How many runs the same clauses decided against.
     *
     * @param failing ids of clauses between bars
     */
    record Decided(String failing, String undecided, int runs) {}

    List<Decided> decided(Filter filter) throws SQLException {
        return query(
                "SELECT run.failing, run.undecided, COUNT(*) FROM run WHERE (run.failing <> '' OR run.undecided <> '') AND "
                        + filter.condition().sql() + " GROUP BY run.failing, run.undecided",
                filter,
                rows -> new Decided(text(rows, 1), text(rows, 2), rows.getInt(3)));
    }

    /** The value of one clause in one run. */
    public record Point(long run, OptionalLong startedMicros, String verdict, double value) {}

    /** Values of a clause in order of time, those of no known date first; runs without a value are not among them. */
    List<Point> points(String clause, Filter filter) throws SQLException {
        return query(
                "SELECT clause.run_id, clause.started_micros, " + CODE_OF_VERDICT + ", clause.value FROM clause"
                        + joined(filter) + " WHERE clause.clause = ? AND clause.value IS NOT NULL AND "
                        + ofClauses(filter) + " ORDER BY clause.started_micros NULLS FIRST, clause.run_id",
                filter,
                rows -> new Point(rows.getLong(1), micros(rows, 2), VERDICTS.get(rows.getInt(3)), rows.getDouble(4)),
                clause);
    }

    /** How many runs of a clause have no value. */
    int notMeasured(String clause, Filter filter) throws SQLException {
        return query(
                        "SELECT COUNT(*) FROM clause" + joined(filter)
                                + " WHERE clause.clause = ? AND clause.value IS NULL AND " + ofClauses(filter),
                        filter,
                        rows -> rows.getInt(1),
                        clause)
                .get(0);
    }

    /** The index of clauses knows time and simulation; for anything else the run itself is asked. */
    private static String joined(Filter filter) {
        return filter.onlyTimeAndSimulation() ? "" : " JOIN run ON run.id = clause.run_id";
    }

    private static String ofClauses(Filter filter) {
        return filter.onlyTimeAndSimulation()
                ? filter.condition().sql().replace("run.", "clause.")
                : filter.condition().sql();
    }

    /** What a clause asked for. */
    record Asked(String unit, OptionalDouble atLeast, OptionalDouble atMost) {}

    /** In one run. */
    Asked asked(String clause, long run) throws SQLException {
        try (PreparedStatement sql = connection.prepareStatement(
                "SELECT unit, at_least, at_most FROM clause WHERE run_id = ? AND clause = ?")) {
            sql.setLong(1, run);
            sql.setString(2, clause);
            try (ResultSet rows = sql.executeQuery()) {
                return rows.next()
                        ? new Asked(text(rows, 1), number(rows, 2), number(rows, 3))
                        : new Asked("", OptionalDouble.empty(), OptionalDouble.empty());
            }
        }
    }

    /** Unit of a run. */
    String unitOf(long run) throws SQLException {
        try (PreparedStatement sql = connection.prepareStatement("SELECT unit FROM run WHERE id = ?")) {
            sql.setLong(1, run);
            try (ResultSet rows = sql.executeQuery()) {
                return rows.next() ? text(rows, 1) : "";
            }
        }
    }

    /** Clauses of the newest run that is meant, in their order. */
    List<String> clausesOfNewest(Filter filter) throws SQLException {
        List<HistoryEntry> newest = runs(filter, 1);
        return newest.isEmpty()
                ? List.of()
                : clauses(newest.get(0).id()).stream().map(Clause::id).toList();
    }

    /** Disclosed operator names by digest. */
    public Map<String, String> names() throws SQLException {
        Map<String, String> names = new TreeMap<>();
        try (PreparedStatement sql = connection.prepareStatement("SELECT digest, name FROM operator_name");
                ResultSet rows = sql.executeQuery()) {
            while (rows.next()) {
                names.put(text(rows, 1), text(rows, 2));
            }
        }
        return names;
    }

    /** Deletes names, and keeps their digests so that no disclosure that turns up later brings them back. */
    public int forget(List<String> digests) throws SQLException {
        return inOne(() -> {
            int gone = 0;
            for (String digest : digests) {
                gone += writing.update("DELETE FROM operator_name WHERE digest = ?", digest);
                writing.update("INSERT INTO forgotten VALUES (?) ON CONFLICT (digest) DO NOTHING", digest);
            }
            return gone;
        });
    }

    private interface Step<T> {
        T run() throws SQLException;
    }

    private <T> T inOne(Step<T> step) throws SQLException {
        connection.setAutoCommit(false);
        try {
            T done = step.run();
            connection.commit();
            connection.setAutoCommit(true);
            return done;
        } catch (SQLException | RuntimeException e) {
            rollBack(e);
            throw e;
        }
    }

    private void rollBack(Exception cause) {
        try {
            connection.rollback();
            connection.setAutoCommit(true);
        } catch (SQLException lost) {
            cause.addSuppressed(lost);
        }
    }

    private interface Row<T> {
        T of(ResultSet rows) throws SQLException;
    }

    private <T> List<T> query(String text, Filter filter, Row<T> row, Object... before) throws SQLException {
        List<T> found = new ArrayList<>();
        try (PreparedStatement sql = connection.prepareStatement(text)) {
            int at = 0;
            for (Object value : before) {
                sql.setObject(++at, value);
            }
            for (Object value : filter.condition().values()) {
                sql.setObject(++at, value);
            }
            sql.setFetchSize(2000);
            try (ResultSet rows = sql.executeQuery()) {
                while (rows.next()) {
                    found.add(row.of(rows));
                }
            }
        }
        return found;
    }

    private static HistoryEntry entry(ResultSet rows, List<Clause> clauses) throws SQLException {
        return new HistoryEntry(
                text(rows, 2),
                text(rows, 3),
                text(rows, 4),
                text(rows, 5),
                text(rows, 6),
                text(rows, 7),
                text(rows, 8),
                rows.getInt(9) != 0,
                micros(rows, 10),
                text(rows, 11),
                rows.getInt(12),
                text(rows, 13),
                text(rows, 14),
                text(rows, 15),
                rows.getInt(16),
                rows.getInt(17),
                clauses,
                text(rows, 18));
    }

    private static String text(ResultSet rows, int column) throws SQLException {
        return String.valueOf(rows.getString(column));
    }

    private static OptionalLong micros(ResultSet rows, int column) throws SQLException {
        long value = rows.getLong(column);
        return rows.wasNull() ? OptionalLong.empty() : OptionalLong.of(value);
    }

    private static OptionalDouble number(ResultSet rows, int column) throws SQLException {
        double value = rows.getDouble(column);
        return rows.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
    }

    @Override
    public void close() {
        try {
            connection.close();
        } catch (SQLException e) {
            // a server that is gone has closed it; what was committed is committed
        }
    }

    public Database database() {
        return database;
    }
}
