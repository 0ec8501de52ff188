package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;
import org.shiftstand.document.BadInput;

/**
 * Parses one capture into a spool: header, then rows. Knows the text; {@link RowCheck} knows what the numbers must be.
 *
 * <p>A row goes through one loop over its bytes. Anything unusual (quotes, exponents, long mantissas, bad text) leaves
 * that loop for {@link CsvField}, which is slow and exact.
 */
final class CsvParser {
    private final String file;
    private final CsvOptions options;
    private final Spool spool;
    private final CsvProblems problems;
    private long line = 1;

    private int[] columnOfField = {};
    private boolean[] present = new boolean[Column.COUNT];
    private List<String> notices = new ArrayList<>();
    private RowStage stage = new RowStage(new boolean[Column.COUNT]);
    private RowCheck check;
    private CsvField field;
    private long emptyLine;
    private final ByteBuffer block = ByteBuffer.allocate(8 + Column.COUNT * ColumnBlock.maxBytes(RowStage.ROWS))
            .order(ByteOrder.LITTLE_ENDIAN);

    CsvParser(String file, CsvOptions options, Spool spool) {
        this.file = file;
        this.options = options;
        this.spool = spool;
        problems = new CsvProblems(file);
        check = new RowCheck(problems, options, present);
        field = new CsvField(problems);
    }

    /** Line reached. */
    long line() {
        return line;
    }

    void discard() {
        spool.close();
    }

    void parse(InputStream in) throws IOException {
        var bytes = new Bytes(in);
        header(bytes);
        while (bytes.line()) {
            row(bytes);
            if (stage.rows == RowStage.ROWS) {
                flush();
            }
        }
        flush();
        problems.throwIfAny();
        check.whole(line);
        problems.throwIfAny();
    }

    SampleSource.Channels channels() {
        return new SampleSource.Channels(
                present[Column.POWER.ordinal()],
                present[Column.WINDOW.ordinal()],
                present[Column.CURRENT.ordinal()],
                present[Column.SUPPLY.ordinal()]);
    }

    SpooledSource source(String name, String sha256) {
        var scale = new double[Column.COUNT];
        for (Column column : Column.values()) {
            scale[column.ordinal()] = options.scale(column);
        }
        present[Column.REQUEST.ordinal()] = false; // not spooled: a request is an event
        return new SpooledSource(
                spool,
                present,
                scale,
                new SourceIdentity("csv", name, sha256),
                check.intervalS(),
                check.requests(),
                notices);
    }

    private void header(Bytes bytes) throws IOException {
        if (!bytes.line()) {
            throw problems.fatal(
                    0,
                    0,
                    "the file is empty; expected a header row and samples. Check that the logger wrote"
                            + " something.");
        }
        CsvEncoding.check(bytes, problems);
        int comments = 0;
        while (bytes.line() && bytes.buffer[bytes.position] == '#') {
            skipLine(bytes);
            comments++;
        }
        if (comments > 0) {
            notices.add(comments + " comment line" + (comments == 1 ? "" : "s") + " before the header left out");
        }
        if (!bytes.line()) {
            throw problems.fatal(line, 1, "the file has no header row; expected time_s,hall_sin,hall_cos and samples.");
        }
        var fields = new ArrayList<String>();
        var starts = new ArrayList<Integer>();
        int headerLine = (int) line;
        int start = bytes.position;
        int p = start;
        while (true) {
            starts.add(p - start + 1);
            p = field.text(bytes, p, line);
            fields.add(field.value());
            line += field.lineBreaks();
            if (bytes.buffer[p] != ',') {
                break;
            }
            p++;
        }
        endOfLine(bytes, p);
        CsvHeader header = CsvHeader.of(file, headerLine, fields, starts, options);
        notices.addAll(header.notices());
        columnOfField = header.columnOfField();
        present = header.present();
        stage = new RowStage(present);
        check = new RowCheck(problems, options, present);
        field = new CsvField(problems, header);
    }

    private void skipLine(Bytes bytes) {
        int p = bytes.position;
        while (bytes.buffer[p] != '\n') {
            p++;
        }
        endOfLine(bytes, p);
    }

    /** Steps over the line break at {@code p}. */
    private void endOfLine(Bytes bytes, int p) {
        int q = p;
        if (bytes.isTooLong(q)) {
            throw tooLong(bytes);
        }
        if (bytes.buffer[q] == '\r' && q + 1 <= bytes.limit && bytes.buffer[q + 1] == '\n') {
            q++;
        }
        bytes.position = Math.min(q + 1, bytes.limit);
        line++;
    }

    private BadInput tooLong(Bytes bytes) {
        CsvEncoding.refuseNul(bytes, bytes.position, line, problems);
        return problems.fatal(
                line,
                1,
                "the line is longer than " + Bytes.MAX_LINE
                        + " bytes; expected one sample a line. Is this a CSV capture?");
    }

    /** One row; the number of bytes it takes is only known behind it. */
    private void row(Bytes bytes) {
        byte[] b = bytes.buffer;
        int start = bytes.position;
        int p = start;
        byte first = b[p];
        if (first == '\n' || (first == '\r' && b[p + 1] == '\n')) {
            emptyLine = emptyLine == 0 ? line : emptyLine;
            endOfLine(bytes, p);
            return;
        }
        if (emptyLine != 0) {
            problems.add(emptyLine, 1, "the line is empty; expected a sample. Remove it.");
            emptyLine = 0;
        }
        int fields = columnOfField.length;
        long startLine = line;
        int bad = 0;
        int lastField = start;
        int f = 0;
        while (true) {
            lastField = p;
            int column = columnOfField[f];
            int q = p;
            byte c = b[q];
            boolean taken = false;
            if (column < 0) {
                if (c != '"') {
                    while (c != ',' && c != '\n' && c != '\r') {
                        c = b[++q];
                    }
                    taken = true;
                }
            } else {
                boolean negative = c == '-';
                if (negative) {
                    c = b[++q];
                }
                int from = q;
                long mantissa = 0;
                while (c >= '0' && c <= '9') {
                    mantissa = mantissa * 10 + (c - '0');
                    c = b[++q];
                }
                int digits = q - from;
                int decimals = 0;
                if (c == '.') {
                    from = q + 1;
                    c = b[++q];
                    while (c >= '0' && c <= '9') {
                        mantissa = mantissa * 10 + (c - '0');
                        c = b[++q];
                    }
                    decimals = q - from;
                    digits += decimals;
                }
                if (digits > 0
                        && digits <= 18
                        && mantissa <= Decimal.EXACT
                        && (c == ',' || c == '\n' || c == '\r')
                        && !(negative && mantissa == 0)) { // −0 keeps its sign on the slow way
                    double value = Decimal.of(mantissa, decimals);
                    int row = stage.rows;
                    stage.value[column][row] = negative ? -value : value;
                    stage.mantissa[column][row] = negative ? -mantissa : mantissa;
                    stage.decimals[column][row] = (byte) decimals;
                    taken = true;
                }
            }
            if (!taken) {
                q = field.text(bytes, p, line);
                line += field.lineBreaks();
                if (column >= 0) {
                    double value = field.number();
                    if (Double.isNaN(value)) {
                        if (bytes.isEnd(q)) {
                            cut(startLine, "its last number is not whole");
                            bytes.position = bytes.limit;
                            return;
                        }
                        field.report(f, startLine, p - start + 1);
                        bad++;
                    } else {
                        stage.put(column, value);
                    }
                }
                c = b[q];
            }
            p = q;
            if (c != ',') {
                break;
            }
            f++;
            p++;
            if (f == fields) {
                break;
            }
        }
        boolean end = bytes.isEnd(p);
        if (bytes.isTooLong(p)) {
            throw tooLong(bytes);
        }
        if (f != fields - 1) {
            if (end && f < fields) {
                cut(startLine, "it has " + (f + 1) + " of " + fields + " fields");
                bytes.position = bytes.limit;
                return;
            }
            wrongCount(bytes, p, f, startLine);
            return;
        }
        if (end && shorterThanBefore(lastField, p)) {
            cut(startLine, "its last number has fewer decimals than all others");
            bytes.position = bytes.limit;
            return;
        }
        endOfLine(bytes, p);
        if (bad == 0 && check.row(stage, startLine)) {
            stage.rows++;
        }
    }

    private void wrongCount(Bytes bytes, int from, int separators, long startLine) {
        int p = from;
        int count = separators + 1;
        if (separators == columnOfField.length) { // stopped behind the first surplus comma
            p = field.text(bytes, p, line);
            while (bytes.buffer[p] == ',') {
                count++;
                p = field.text(bytes, p + 1, line);
            }
        }
        endOfLine(bytes, p);
        problems.add(
                startLine,
                1,
                "the row has " + count + (count == 1 ? " field" : " fields") + "; the header has "
                        + columnOfField.length + ". Nothing was measured. Remove or repair the row.");
    }

    /** Whether the last number of the file has fewer decimals than the same column had in the row before. */
    private boolean shorterThanBefore(int from, int to) {
        int column = columnOfField[columnOfField.length - 1];
        if (column < 0 || stage.rows == 0 || to <= from) {
            return false;
        }
        byte[] decimals = stage.decimals[column];
        int least = Integer.MAX_VALUE;
        for (int i = 0; i < stage.rows; i++) {
            least = Math.min(least, decimals[i]);
        }
        return least > 0 && decimals[stage.rows] >= 0 && decimals[stage.rows] < least;
    }

    private void cut(long atLine, String how) {
        notices.add("line " + atLine + " is cut short (" + how + ") and was left out: the logger stopped inside it");
    }

    private void flush() {
        if (stage.rows == 0) {
            return;
        }
        block.clear();
        block.putInt(stage.rows);
        for (int c = 0; c < Column.COUNT; c++) {
            if (present[c] && c != Column.REQUEST.ordinal()) {
                ColumnBlock.write(stage, c, block);
            }
        }
        spool.append(block);
        stage.rows = 0;
    }
}
