package org.shiftstand.capture;

import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;

/**
 * How a capture of another logger is read: which mark separates fields, which the decimals, where time is from, and which
 * columns hold what. Found by {@link Recognition}, or written by people in a mapping file.
 *
 * @param name what the mapping is called
 * @param format how numbers and fields are written
 * @param time where the time of a sample is from
 * @param columns capture column, such as {@code hall_sin}, to where it is from; {@code hall_sin} and {@code hall_cos}
 *     are there, {@code time_s} is not
 * @param periodsPerTurn how often the magnet's field goes round in one turn of the shaft, 1 or more; empty where nothing is
 *     said
 */
public record Dialect(
        String name, Format format, TimeFrom time, Map<String, ColumnFrom> columns, OptionalInt periodsPerTurn) {
    public Dialect {
        for (Column needed : new Column[] {Column.SIN, Column.COS}) {
            if (!columns.containsKey(needed.header())) {
                throw new IllegalArgumentException("no column for it: column=" + needed.header());
            }
        }
        Map<Column, ColumnFrom> sorted = new EnumMap<>(Column.class);
        columns.forEach((key, from) -> sorted.put(column(key), from));
        Map<String, ColumnFrom> inOrder = new LinkedHashMap<>();
        sorted.forEach((column, from) -> inOrder.put(column.header(), from));
        columns = Collections.unmodifiableMap(inOrder);
    }

    private static Column column(String header) {
        return Column.named(header)
                .filter(c -> c != Column.TIME)
                .orElseThrow(() -> new IllegalArgumentException("no capture column: column=" + header));
    }

    /**
     * How fields and numbers are written.
     *
     * @param delimiter what separates fields
     * @param decimal what separates whole from fraction
     * @param grouping what groups the digits of large numbers
     * @param header whether a row of names stands before the samples; without, columns go by {@code column-1} and so on
     */
    public record Format(Delimiter delimiter, DecimalMark decimal, Grouping grouping, boolean header) {}

    /** What separates fields. */
    public enum Delimiter {
        COMMA("comma", ','),
        SEMICOLON("semicolon", ';'),
        TAB("tab", '\t');

        private final String word;
        private final char mark;

        Delimiter(String word, char mark) {
            this.word = word;
            this.mark = mark;
        }

        public String word() {
            return word;
        }

        byte mark() {
            return (byte) mark;
        }
    }

    /** What separates whole from fraction. */
    public enum DecimalMark {
        POINT("point", '.'),
        COMMA("comma", ',');

        private final String word;
        private final char mark;

        DecimalMark(String word, char mark) {
            this.word = word;
            this.mark = mark;
        }

        public String word() {
            return word;
        }

        byte mark() {
            return (byte) mark;
        }
    }

    /** What groups the digits of large numbers by three. */
    public enum Grouping {
        NONE("none", '\0'),
        POINT("point", '.'),
        COMMA("comma", ','),
        APOSTROPHE("apostrophe", '\''),
        SPACE("space", ' ');

        private final String word;
        private final char mark;

        Grouping(String word, char mark) {
            this.word = word;
            this.mark = mark;
        }

        public String word() {
            return word;
        }

        byte mark() {
            return (byte) mark;
        }
    }
}
