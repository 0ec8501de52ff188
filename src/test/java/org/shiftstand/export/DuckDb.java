package org.shiftstand.export;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A real DuckDB over an export, and the queries of the page on exports. */
public final class DuckDb {
    private static final Path PAGE = Path.of("reports", "EXPORT.md");

    private DuckDb() {}

    /** Rows of a query, column by column; every {@code 'fleet/} in it stands for this folder. */
    public static List<Map<String, Object>> query(Path fleet, String sql) {
        try (Connection connection = DriverManager.getConnection("jdbc:duckdb:");
                Statement statement = connection.createStatement()) {
            statement.execute("SET threads = 1");
            statement.execute("SET TimeZone = 'UTC'");
            List<Map<String, Object>> rows = new ArrayList<>();
            if (statement.execute(sql.replace("'fleet/", "'" + fleet.toString().replace("'", "''") + "/"))) {
                try (ResultSet result = statement.getResultSet()) {
                    while (result.next()) {
                        rows.add(row(result));
                    }
                }
            }
            return rows;
        } catch (SQLException e) {
            throw new AssertionError(sql + ": " + e.getMessage(), e);
        }
    }

    private static Map<String, Object> row(ResultSet result) throws SQLException {
        Map<String, Object> row = new LinkedHashMap<>();
        for (int i = 1; i <= result.getMetaData().getColumnCount(); i++) {
            row.put(result.getMetaData().getColumnLabel(i), result.getObject(i));
        }
        return row;
    }

    /** The query of this name, as the page on exports has it. */
    public static String ofPage(String name) {
        try {
            String page = Files.readString(PAGE);
            String mark = "<!-- query: " + name + " -->\n```sql\n";
            int begin = page.indexOf(mark);
            if (begin < 0) {
                throw new AssertionError("the page has no query of this name: " + name);
            }
            return page.substring(begin + mark.length(), page.indexOf("```", begin + mark.length()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
