package org.shiftstand.record;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** Rows of one table, each value of the type that the table declares and of nothing else, digested as they are read. */
final class Rows {
    private final String file;
    private final String table;
    private final ResultSet rows;
    private final Optional<RowDigest> digest;
    private final int columns;
    private int column;
    private long row;

    Rows(String file, String table, ResultSet rows, Optional<RowDigest> digest) throws SQLException {
        this.file = file;
        this.table = table;
        this.rows = rows;
        this.digest = digest;
        columns = rows.getMetaData().getColumnCount();
        digest.ifPresent(d -> d.table(table));
    }

    boolean next() throws SQLException {
        if (!rows.next()) {
            return false;
        }
        column = 0;
        row++;
        digest.ifPresent(RowDigest::row);
        return true;
    }

    long integer() throws SQLException {
        Object value = value();
        if (value instanceof Integer || value instanceof Long) {
            long integer = ((Number) value).longValue();
            if (digest.isPresent()) {
                digest.get().integer(integer);
            }
            return integer;
        }
        throw wrongType("an integer", value);
    }

    /** An integer that a check sum covers: no look at its type, which would cost as much as reading it. */
    long checkedInteger() throws SQLException {
        long integer = rows.getLong(++column);
        if (digest.isPresent()) {
            digest.get().integer(integer);
        }
        return integer;
    }

    /** An integer that must fit. */
    int small() throws SQLException {
        long value = integer();
        if (value != (int) value) {
            throw bad(name() + " is out of range: " + value
                    + ". The file was not written by this tool, or was changed since; use an unchanged copy.");
        }
        return (int) value;
    }

    double real() throws SQLException {
        Object value = value();
        if (value instanceof Double real) {
            digest.ifPresent(d -> d.real(real));
            return real;
        }
        throw wrongType("a real number", value);
    }

    String text() throws SQLException {
        Object value = value();
        if (value instanceof String text) {
            digest.ifPresent(d -> d.text(text));
            return text;
        }
        throw wrongType("text", value);
    }

    byte[] blob() throws SQLException {
        column++;
        byte[] bytes = rows.getBytes(column);
        if (bytes == null) {
            throw wrongType("bytes", null);
        }
        if (digest.isPresent()) {
            digest.get().blob(bytes);
        }
        return bytes;
    }

    /** The values of a row that nobody here looks at, for the digest. */
    void skip() throws SQLException {
        while (column < columns) {
            Object value = value();
            if (digest.isPresent()) {
                add(digest.get(), value);
            }
        }
    }

    private void add(RowDigest to, @Nullable Object value) throws SQLException {
        if (value instanceof Integer || value instanceof Long) {
            to.integer(((Number) value).longValue());
        } else if (value instanceof Double real) {
            to.real(real);
        } else if (value instanceof String text) {
            to.text(text);
        } else if (value instanceof byte[] bytes) {
            to.blob(bytes);
        } else {
            throw wrongType("a value", value);
        }
    }

    /** What is wrong, with the table and the row. */
    BadInput bad(String what) {
        return new BadInput(new Problem(file, 0, 0, "table " + table + ", row " + row + ": " + what));
    }

    private @Nullable Object value() throws SQLException {
        column++;
        return rows.getObject(column);
    }

    private BadInput wrongType(String expected, @Nullable Object found) throws SQLException {
        String kind = found == null
                ? "nothing"
                : found instanceof byte[] ? "bytes" : found.getClass().getSimpleName();
        return bad(name() + " holds " + kind + "; expected " + expected
                + ". The file was not written by this tool, or was changed since; use an unchanged copy.");
    }

    private String name() throws SQLException {
        return rows.getMetaData().getColumnName(column);
    }
}
