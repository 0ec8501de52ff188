package org.shiftstand.capture;

import java.nio.charset.StandardCharsets;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** One field read the slow and exact way: quotes, spaces, exponents, long mantissas; and what is wrong with it. */
final class CsvField {
    private final CsvProblems problems;
    private final @Nullable CsvHeader header;
    private byte[] text = new byte[256];
    private int length;
    private int lineBreaks;

    CsvField(CsvProblems problems) {
        this(problems, null);
    }

    CsvField(CsvProblems problems, @Nullable CsvHeader header) {
        this.problems = problems;
        this.header = header;
    }

    /**
     * Reads the field that starts at {@code from}.
     *
     * @return where its separator stands: a comma, a line break, or the end
     */
    int text(Bytes bytes, int from, long line) {
        byte[] b = bytes.buffer;
        length = 0;
        lineBreaks = 0;
        int p = from;
        if (b[p] == '"') {
            p++;
            while (true) {
                if (p >= bytes.limit) {
                    CsvEncoding.refuseNul(bytes, from, line, problems);
                    throw problems.fatal(
                            line,
                            1,
                            "a quoted field does not end; expected a closing '\"'. Nothing was"
                                    + " measured. Repair the line.");
                }
                if (b[p] == '"' && b[p + 1] == '"' && p + 1 < bytes.limit) {
                    p++;
                } else if (b[p] == '"') {
                    p++;
                    break;
                }
                lineBreaks += b[p] == '\n' ? 1 : 0;
                put(b[p++]);
            }
        }
        while (b[p] != ',' && b[p] != '\n' && !(b[p] == '\r' && b[p + 1] == '\n')) {
            if (b[p] == 0) {
                throw CsvEncoding.nul(problems, line, p - bytes.position + 1);
            }
            put(b[p++]);
        }
        return p;
    }

    private void put(byte b) {
        if (length == text.length) {
            text = java.util.Arrays.copyOf(text, 2 * length);
        }
        text[length++] = b;
    }

    String value() {
        return new String(text, 0, length, StandardCharsets.UTF_8);
    }

    int lineBreaks() {
        return lineBreaks;
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

    void report(int fieldIndex, long line, int column) {
        String name = header == null ? "" : header.name(fieldIndex);
        String shown = value().strip();
        String what;
        if (shown.isEmpty()) {
            what = name + " is empty; expected a number";
        } else if (shown.toLowerCase(Locale.ROOT).matches("[+-]?(nan|inf|infinity|#n/a|null|none)")) {
            what = name + " is '" + CsvHeader.shown(shown) + "'; expected a finite number";
        } else if (shown.matches("[+-]?\\d+(,\\d+)?")) {
            what = name + " is '" + CsvHeader.shown(shown) + "'; expected a number with a decimal point";
        } else {
            what = name + " is '" + CsvHeader.shown(shown) + "'; expected a number";
        }
        problems.add(line, column, what + ". Nothing was measured. Repair or remove the row.");
    }
}
