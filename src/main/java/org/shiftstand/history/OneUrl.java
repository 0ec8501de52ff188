package org.shiftstand.history;

import java.io.PrintWriter;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.SQLFeatureNotSupportedException;
import java.util.logging.Logger;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;

/** Connections to one database, as Flyway asks for them. */
final class OneUrl implements DataSource {
    private final Database database;

    OneUrl(Database database) {
        this.database = database;
    }

    @Override
    public Connection getConnection() throws SQLException {
        return database.open();
    }

    @Override
    public Connection getConnection(String user, String password) throws SQLException {
        return DriverManager.getConnection(database.url(), user, password);
    }

    @Override
    public @Nullable PrintWriter getLogWriter() {
        return null;
    }

    @Override
    public void setLogWriter(@Nullable PrintWriter out) {}

    @Override
    public void setLoginTimeout(int seconds) {}

    @Override
    public int getLoginTimeout() {
        return 0;
    }

    @Override
    public Logger getParentLogger() throws SQLFeatureNotSupportedException {
        throw new SQLFeatureNotSupportedException();
    }

    @Override
    public <T> T unwrap(Class<T> type) throws SQLException {
        throw new SQLException("no wrapper: type=" + type);
    }

    @Override
    public boolean isWrapperFor(Class<?> type) {
        return false;
    }
}
