package org.shiftstand.capture;

import java.util.List;
import java.util.Optional;

/**
 * Reads rows into a stage. A row goes through one loop over its bytes; anything unusual in a field (quotes, exponents,
 * long mantissas, bad text) leaves that loop for {@link CsvField}, which is slow and exact.
 */
final class CsvRows implements StagedRows.Rows {
    /** More digits may not fit a long; more than 2^53 is no double. */
    private static final int MOST_DIGITS = 18;

    private final CsvHeader header;
    private final int[] columnOfField;
    private RowStage stage = RowStage.NONE;
    private final RowCheck check;
    private final CsvProblems problems;
    private final List<String> notices;
    private final CsvField field = new CsvField();
    private long emptyLine;

    /** Fields of the row read so far, the last one included. */
    private int fields;

    private int lastStart;
    private int lineBreaks;
    private boolean damaged;

    CsvRows(CsvHeader header, RowCheck check, CsvProblems problems, List<String> notices) {
        this.header = header;
        this.check = check;
        this.problems = problems;
        this.notices = notices;
        columnOfField = header.columnOfField();
    }

    @Override
    public void into(RowStage empty) {
        stage = empty;
    }

    /** Reads the row at {@code bytes.position} and goes to the next line. */
    @Override
    public void read(Bytes bytes) {
        if (isEmptyLine(bytes)) {
            return;
        }
        int end = scan(bytes);
        if (end < 0) {
            cut(bytes, "its last number is not whole");
            return;
        }
        if (fields != columnOfField.length) {
            wrongCount(bytes, end);
            return;
        }
        if (bytes.isEnd(end) && isShorterThanBefore(end)) {
            cut(bytes, "its last number has fewer decimals than all others");
            return;
        }
        long line = bytes.line;
        int start = bytes.position;
        bytes.nextLine(end);
        bytes.line += lineBreaks;
        if (!damaged) {
            Optional<RowCheck.Refusal> refusal = check.row(stage);
            if (refusal.isEmpty()) {
                stage.rows += check.kept() ? 1 : 0;
            } else {
                refuse(bytes, start, line, refusal.get());
            }
        }
    }

    private boolean isEmptyLine(Bytes bytes) {
        byte first = bytes.buffer[bytes.position];
        if (first == '\n' || (first == '\r' && bytes.buffer[bytes.position + 1] == '\n')) {
            emptyLine = emptyLine == 0 ? bytes.line : emptyLine;
            bytes.nextLine(bytes.position);
            return true;
        }
        if (emptyLine != 0) { // empty lines are left out at the end of the file only
            problems.add(emptyLine, 1, "the line is empty; expected a sample. Remove it.");
            emptyLine = 0;
        }
        return false;
    }

    /** Scans the fields into the stage; where the row ends, or −1 where the last number of the file is cut short. */
    private int scan(Bytes bytes) {
        byte[] b = bytes.buffer;
        int p = bytes.position;
        int last = columnOfField.length - 1;
        damaged = false;
        lineBreaks = 0;
        for (int f = 0; ; f++) {
            int column = columnOfField[f];
            lastStart = p;
            int q = column < 0 ? skip(b, p) : number(b, p, column);
            if (q < 0) {
                q = slowly(bytes, p, f);
                if (q < 0) {
                    return -1;
                }
            }
            fields = f + 1;
            if (b[q] != ',') {
                return q;
            }
            if (f == last) {
                fields = f + 2; // at least; what follows is counted when it is reported
                return q;
            }
            p = q + 1;
        }
    }

    /** Steps over a field that is not used; −1 where it is quoted. */
    private static int skip(byte[] b, int from) {
        int p = from;
        byte c = b[p];
        if (c == '"') {
            return -1;
        }
        while (c != ',' && c != '\n' && c != '\r') {
            c = b[++p];
        }
        return p;
    }

    /** Reads a plain decimal number into the stage; where it ends, or −1 where it needs the slow way. */
    private int number(byte[] b, int from, int column) {
        int p = from;
        byte c = b[p];
        boolean negative = c == '-';
        if (negative) {
            c = b[++p];
        }
        int first = p;
        long mantissa = 0;
        while (c >= '0' && c <= '9') {
            mantissa = mantissa * 10 + (c - '0');
            c = b[++p];
        }
        int digits = p - first;
        int decimals = 0;
        if (c == '.') {
            first = p + 1;
            c = b[++p];
            while (c >= '0' && c <= '9') {
                mantissa = mantissa * 10 + (c - '0');
                c = b[++p];
            }
            decimals = p - first;
            digits += decimals;
        }
        if (digits == 0
                || digits > MOST_DIGITS
                || mantissa > Decimal.EXACT
                || (c != ',' && c != '\n' && c != '\r')
                || (negative && mantissa == 0)) { // −0 keeps its sign on the slow way
            return -1;
        }
        double value = Decimal.of(mantissa, decimals);
        int row = stage.rows;
        stage.value[column][row] = negative ? -value : value;
        stage.mantissa[column][row] = negative ? -mantissa : mantissa;
        stage.decimals[column][row] = (byte) decimals;
        return p;
    }

    private int slowly(Bytes bytes, int from, int fieldIndex) {
        int p = field.read(bytes, from);
        lineBreaks += field.lineBreaks();
        boolean atEnd = bytes.isEnd(p);
        if (!field.isClosed()) {
            if (atEnd && field.lineBreaks() == 0) {
                return -1;
            }
            throw problems.fatal(
                    bytes.line,
                    from - bytes.position + 1,
                    "a quoted field does not end; expected a closing '\"'. Nothing was measured. Repair the line.");
        }
        int column = columnOfField[fieldIndex];
        if (column < 0) {
            return p;
        }
        double value = field.number();
        if (!Double.isNaN(value)) {
            stage.put(column, value);
        } else if (atEnd) {
            return -1;
        } else {
            damaged = true;
            problems.add(bytes.line, from - bytes.position + 1, field.complaint(header.name(fieldIndex)));
        }
        return p;
    }

    private void wrongCount(Bytes bytes, int end) {
        if (bytes.isEnd(end) && fields < columnOfField.length) {
            cut(bytes, "it has " + fields + " of " + columnOfField.length + " fields");
            return;
        }
        long line = bytes.line;
        int count = CsvRecord.read(bytes).fields().size();
        problems.add(
                line,
                1,
                "the row has " + count + (count == 1 ? " field" : " fields") + "; the header has "
                        + columnOfField.length + ". Nothing was measured. Remove or repair the row.");
    }

    /** Whether the last number of the file has fewer decimals than the same column had in the rows before it. */
    private boolean isShorterThanBefore(int end) {
        int column = columnOfField[columnOfField.length - 1];
        if (column < 0 || stage.rows == 0 || end <= lastStart) {
            return false;
        }
        byte[] decimals = stage.decimals[column];
        int least = Integer.MAX_VALUE;
        for (int i = 0; i < stage.rows; i++) {
            least = Math.min(least, decimals[i]);
        }
        return least > 0 && decimals[stage.rows] >= 0 && decimals[stage.rows] < least;
    }

    private void cut(Bytes bytes, String how) {
        notices.add(
                "line " + bytes.line + " is cut short (" + how + ") and was left out: the logger stopped inside it");
        bytes.stop();
    }

    private void refuse(Bytes bytes, int start, long line, RowCheck.Refusal refusal) {
        int next = bytes.position;
        long nextLine = bytes.line;
        bytes.position = start;
        List<Integer> columns = CsvRecord.read(bytes).columns();
        bytes.position = next;
        bytes.line = nextLine;
        int fieldIndex = 0;
        while (columnOfField[fieldIndex] != refusal.column().index()) {
            fieldIndex++;
        }
        problems.add(line, columns.get(fieldIndex), refusal.text());
    }
}
