package org.shiftstand.history;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Properties;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.locks.LockSupport;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.FlywayException;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * Where a history is kept: a file of SQLite, or a PostgreSQL server. The same migrations make both.
 *
 * @param url of JDBC
 * @param shown the same for messages, without a password
 */
public record Database(String url, String shown, Properties login) {
    /** The newest migration. */
    private static final int NEWEST = 1;

    private static final int PATIENCE_S = 10;
    /** SQLITE_BUSY in the lower byte of its kinds: https://www.sqlite.org/rescode.html, "Primary Result Codes". */
    private static final int BUSY = 5;

    private static final String POSTGRES = "jdbc:postgresql:";
    private static final String SQLITE = "jdbc:sqlite:";

    /**
     * From what a user wrote: a file, {@code jdbc:sqlite:FILE} or {@code jdbc:postgresql://…}.
     *
     * @param user of a server; empty for none
     * @param password likewise
     * @throws BadInput where it is neither
     */
    public static Database of(String typed, String user, String password) {
        Properties login = new Properties();
        if (typed.startsWith(POSTGRES)) {
            login.setProperty("connectTimeout", "3");
            login.setProperty("socketTimeout", "30");
            login.setProperty("ApplicationName", "shiftstand");
            set(login, "user", user);
            set(login, "password", password);
            return new Database(
                    typed, typed.replaceAll("(?i)(password=)[^&]*", "$1…").replaceAll("//[^/@]*@", "//"), login);
        }
        if (typed.startsWith("jdbc:") && !typed.startsWith(SQLITE)) {
            throw bad(typed, "is no database for a history; expected a file, or jdbc:postgresql://HOST/DATABASE");
        }
        String file = typed.startsWith(SQLITE) ? typed.substring(SQLITE.length()) : typed;
        login.setProperty("journal_mode", "WAL");
        login.setProperty("busy_timeout", String.valueOf(TimeUnit.SECONDS.toMillis(PATIENCE_S)));
        login.setProperty("transaction_mode", "IMMEDIATE"); // one writer waits for another, in place of failing at once
        login.setProperty("foreign_keys", "true");
        login.setProperty("synchronous", "NORMAL");
        return new Database(SQLITE + file, file, login);
    }

    private static void set(Properties login, String key, String value) {
        if (!value.isEmpty()) {
            login.setProperty(key, value);
        }
    }

    public boolean isServer() {
        return url.startsWith(POSTGRES);
    }

    /**
     * Connects; makes tables or brings them up to date where they are not.
     *
     * @throws SQLException where it cannot be reached
     * @throws BadInput where a newer version of this program has changed it
     */
    Connection connect() throws SQLException {
        makeFolder();
        Connection connection = open();
        try {
            int version = version(connection);
            if (version > NEWEST) {
                throw bad(
                        shown,
                        "was made by a later version of this program (tables of version " + version
                                + ", this one knows " + NEWEST + "); use that version");
            }
            if (version < NEWEST) {
                connection.close();
                migrate();
                connection = open();
            }
            return connection;
        } catch (SQLException | RuntimeException e) {
            connection.close();
            throw e;
        }
    }

    /**
     * Opens a connection as it is. Waits up to {@value #PATIENCE_S} s for others: SQLite's own waiting does not hold where a file
     * is new or its last user leaves, since write-ahead logging is set up then, and fails at once.
     */
    Connection open() throws SQLException {
        long until = System.nanoTime() + TimeUnit.SECONDS.toNanos(PATIENCE_S);
        while (true) {
            try {
                return DriverManager.getConnection(url, login);
            } catch (SQLException e) {
                if (isServer() || (e.getErrorCode() & 0xff) != BUSY || System.nanoTime() > until) {
                    throw e;
                }
                LockSupport.parkNanos(TimeUnit.MILLISECONDS.toNanos(5));
            }
        }
    }

    private void makeFolder() throws SQLException {
        try {
            if (!isServer() && Path.of(shown).toAbsolutePath().getParent() != null) {
                Files.createDirectories(Path.of(shown).toAbsolutePath().getParent());
            }
        } catch (IOException e) {
            throw new SQLException("its folder cannot be made: " + e.getMessage(), e);
        }
    }

    /** Flyway's own table tells, without the half second that starting Flyway takes. */
    private int version(Connection connection) throws SQLException {
        try (Statement sql = connection.createStatement();
                ResultSet tables = connection.getMetaData().getTables(null, null, "flyway_schema_history", null)) {
            if (!tables.next()) {
                return 0;
            }
            try (ResultSet rows = sql.executeQuery(
                    "SELECT MAX(CAST(version AS INTEGER)) FROM flyway_schema_history WHERE version IS NOT NULL")) {
                return rows.next() ? rows.getInt(1) : 0;
            }
        }
    }

    private void migrate() throws SQLException {
        try {
            Flyway.configure()
                    .dataSource(new OneUrl(this))
                    .locations("classpath:db/history")
                    .baselineOnMigrate(false)
                    .load()
                    .migrate();
        } catch (FlywayException e) {
            if (e.getCause() instanceof SQLException sql) {
                throw sql;
            }
            throw new SQLException("its tables cannot be made: " + e.getMessage(), e);
        }
    }

    static BadInput bad(String where, String what) {
        return new BadInput(new Problem(where, 0, 0, what));
    }
}
