package org.shiftstand.capture;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Locale;

/** One field read the slow and exact way: quotes, spaces, exponents, long mantissas; and what is wrong with it. */
final class CsvField {
    private byte[] text = new byte[256];
    private int length;
    private int lineBreaks;
    private boolean closed;

    /**
     * Reads the field that starts at {@code from}.
     *
     * @return where its separator stands: a comma, a line break, or the end
     */
    int read(Bytes bytes, int from) {
        length = 0;
        lineBreaks = 0;
        closed = true;
        int p = bytes.buffer[from] == '"' ? quoted(bytes, from + 1) : from;
        byte[] b = bytes.buffer;
        while (b[p] != ',' && b[p] != '\n' && !(b[p] == '\r' && b[p + 1] == '\n')) {
            if (b[p] == 0) {
                throw bytes.nul(p);
            }
            put(b[p++]);
        }
        return p;
    }

    private int quoted(Bytes bytes, int from) {
        byte[] b = bytes.buffer;
        for (int p = from; p < bytes.limit; p++) {
            if (b[p] == '"' && b[p + 1] != '"') {
                return p + 1;
            }
            if (b[p] == '"') {
                p++; // RFC 4180, 2.7: a doubled quote is one quote
            }
            if (b[p] == 0) {
                throw bytes.nul(p);
            }
            lineBreaks += b[p] == '\n' ? 1 : 0;
            put(b[p]);
        }
        closed = false;
        return bytes.limit;
    }

    private void put(byte b) {
        if (length == text.length) {
            text = Arrays.copyOf(text, 2 * length);
        }
        text[length++] = b;
    }

    String value() {
        return new String(text, 0, length, StandardCharsets.UTF_8);
    }

    /** Line breaks inside its quotes. */
    int lineBreaks() {
        return lineBreaks;
    }

    /** False where a quote was opened and the bytes ended before it was closed. */
    boolean isClosed() {
        return closed;
    }

    /** The field as a number, spaces around it left out; NaN where it is none or not finite. */
    double number() {
        int from = 0;
        int to = length;
        while (from < to && isSpace(text[from])) {
            from++;
        }
        while (to > from && isSpace(text[to - 1])) {
            to--;
        }
        if (!Decimal.isNumber(text, from, to)) {
            return Double.NaN;
        }
        double value = Decimal.parse(text, from, to);
        return Double.isInfinite(value) ? Double.NaN : value;
    }

    private static boolean isSpace(byte b) {
        return b == ' ' || b == '\t';
    }

    /** Why it is no number. */
    String complaint(String name) {
        String shown = value().strip();
        String expected;
        if (shown.isEmpty()) {
            return name + " is empty; expected a number. Nothing was measured. Repair or remove the row.";
        } else if (shown.toLowerCase(Locale.ROOT).matches("[+-]?(nan|inf|infinity)|[+-]?\\d.*e\\+?\\d+")) {
            expected = "a finite number";
        } else if (shown.matches("[+-]?\\d+,\\d+")) {
            expected = "a number with a decimal point";
        } else {
            expected = "a number";
        }
        return name + " is '" + CsvHeader.shown(shown) + "'; expected " + expected
                + ". Nothing was measured. Repair or remove the row.";
    }
}
