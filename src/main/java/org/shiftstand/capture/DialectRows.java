package org.shiftstand.capture;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Reads rows of a dialect into a stage. Units, origins and differences are taken on the decimals as written, so that what
 * comes out is the double nearest to the exact value.
 */
final class DialectRows implements StagedRows.Rows {
    private final int[] place = new int[Column.COUNT];
    private final int[] minus = new int[Column.COUNT];
    private final ColumnFrom[] from = new ColumnFrom[Column.COUNT];
    /** Power of ten that the scale of a column is; a large number where it is none. */
    private final int[] shift = new int[Column.COUNT];

    private static final int NO_POWER = 1000;

    private final Map<String, Integer> places;
    /** Fields of a row: as many as the header has, without one as many as the first row. */
    private int width;

    private final boolean header;
    private RowStage stage = RowStage.NONE;
    private final RowCheck check;
    private final CsvProblems problems;
    private final List<String> notices;
    private final Fields fields;
    private final NumberText number;
    private final NumberText other;
    private final SampleTime time;
    private long emptyLine;
    private int leastDecimals = Integer.MAX_VALUE;

    DialectRows(
            Dialect dialect,
            Map<String, Integer> places,
            int width,
            RowCheck check,
            CsvProblems problems,
            List<String> notices) {
        this.places = places;
        this.width = width;
        header = dialect.format().header();
        this.check = check;
        this.problems = problems;
        this.notices = notices;
        fields = new Fields(dialect.format().delimiter().mark());
        number = new NumberText(dialect.format().decimal(), dialect.format().grouping());
        other = new NumberText(dialect.format().decimal(), dialect.format().grouping());
        time = SampleTime.of(dialect.time(), number);
        for (Column column : Column.values()) {
            Optional<ColumnFrom> source = Optional.ofNullable(dialect.columns().get(column.header()));
            int c = column.index();
            place[c] = source.map(s -> place(s.column())).orElse(-1);
            minus[c] = source.flatMap(ColumnFrom::minus).map(this::place).orElse(-1);
            if (source.isPresent()) {
                from[c] = source.get();
                shift[c] = powerOfTen(source.get().scale());
            }
        }
        place[0] = time.column().map(this::place).orElse(-1);
    }

    private int place(String header) {
        Integer at = places.get(header);
        if (at == null) {
            throw new IllegalStateException("the header was to hold it: column=" + header);
        }
        return at;
    }

    private static int powerOfTen(double scale) {
        for (int k = -12; k <= 12; k++) {
            if (scale == (k < 0 ? 1 / Decimal.POWERS[-k] : Decimal.POWERS[k])) {
                return k;
            }
        }
        return NO_POWER;
    }

    /** Whether the line at {@code bytes.position} is a sample; of files without a header. */
    boolean isSample(Bytes bytes) {
        byte[] b = bytes.buffer;
        fields.split(b, bytes.position, bytes.limit);
        for (int c = 0; c < Column.COUNT; c++) {
            for (int at : new int[] {place[c], minus[c]}) {
                if (at >= fields.count()) {
                    return false;
                }
                if (at >= 0 && (c == 0 ? !time.reads(fields, b, at) : !reads(number, b, at))) {
                    return false;
                }
            }
        }
        return true;
    }

    private boolean reads(NumberText into, byte[] b, int field) {
        return into.read(b, fields.from(field), fields.to(field));
    }

    @Override
    public void into(RowStage empty) {
        stage = empty;
    }

    /** Reads the row at {@code bytes.position} and goes to the next line. */
    @Override
    public void read(Bytes bytes) {
        byte[] b = bytes.buffer;
        fields.split(b, bytes.position, bytes.limit);
        long line = bytes.line;
        int start = bytes.position;
        if (fields.count() == 1 && fields.isBlank(b, 0)) {
            emptyLine = emptyLine == 0 ? line : emptyLine;
            bytes.nextLine(fields.end());
            return;
        }
        boolean last = bytes.isEnd(fields.end()); // no line break behind it
        refuseNul(bytes, start);
        bytes.nextLine(fields.end());
        if (emptyLine != 0) {
            problems.add(emptyLine, 1, "the line is empty; expected a sample. Remove it.");
            emptyLine = 0;
        }
        if (!isWhole(b, line, last) || !fill(b, line, start, last)) {
            return;
        }
        if (last && isShortened(b)) {
            cut(line, "its last number has fewer decimals than all others");
            return;
        }
        Optional<RowCheck.Refusal> refusal = check.row(stage);
        if (refusal.isEmpty()) {
            stage.rows += check.kept() ? 1 : 0;
        } else {
            int field = Math.max(0, place[refusal.get().column().index()]);
            problems.add(line, fields.from(field) - start + 1, refusal.get().text());
        }
    }

    private void refuseNul(Bytes bytes, int start) {
        for (int p = start; p < fields.end(); p++) {
            if (bytes.buffer[p] == 0) {
                throw bytes.nul(p);
            }
        }
    }

    private boolean isWhole(byte[] b, long line, boolean last) {
        if (!fields.isClosed()) {
            if (last) {
                cut(line, "a quote does not end");
            } else {
                problems.add(
                        line, 1, "a quoted field does not end in its line; expected a closing '\"'. Repair the line.");
            }
            return false;
        }
        int needed = 0;
        for (int c = 0; c < Column.COUNT; c++) {
            needed = Math.max(needed, 1 + Math.max(place[c], minus[c]));
        }
        int count = fields.count();
        while (width > 0 && count > width && fields.isBlank(b, count - 1)) {
            count--; // a delimiter at the end of the row
        }
        if (width == 0 && count >= needed) {
            width = count;
        }
        if (count == width) {
            return true;
        }
        if (last && count < Math.max(width, needed)) {
            cut(line, "it has " + count + " of " + Math.max(width, needed) + " fields");
        } else {
            problems.add(
                    line,
                    1,
                    "the row has " + count + (count == 1 ? " field" : " fields") + "; the "
                            + (header ? "header has " : "first sample has ") + Math.max(width, needed)
                            + ". Nothing was measured. Remove or repair the row.");
        }
        return false;
    }

    private void cut(long line, String how) {
        notices.add("line " + line + " is cut short (" + how + ") and was left out: the logger stopped inside it");
    }

    /** Tells what was met at the end of the file. */
    void notices() {
        time.notices().forEach(notices::add);
    }

    /** Whether the last number of a file without a last line break has fewer decimals than it had in any row before. */
    private boolean isShortened(byte[] b) {
        int field = fields.count() - 1;
        return leastDecimals > 0
                && leastDecimals < Integer.MAX_VALUE
                && reads(number, b, field)
                && number.decimals() < leastDecimals;
    }

    private boolean fill(byte[] b, long line, int start, boolean last) {
        boolean good = true;
        for (int c = 1; c < Column.COUNT; c++) {
            if (place[c] < 0) {
                continue;
            }
            if (!reads(number, b, place[c])) {
                good &= refuse(b, line, start, place[c], last, "a number");
            } else if (minus[c] >= 0 && !reads(other, b, minus[c])) {
                good &= refuse(b, line, start, minus[c], last, "a number");
            } else {
                put(c);
            }
        }
        if (place[0] >= 0 && !time.reads(fields, b, place[0])) {
            return refuse(b, line, start, place[0], last, time.expected());
        }
        if (good) {
            time.put(stage);
            noteDecimals(b);
        }
        return good;
    }

    private void noteDecimals(byte[] b) {
        if (leastDecimals > 0 && reads(number, b, fields.count() - 1)) {
            leastDecimals = Math.min(leastDecimals, number.decimals());
        } else {
            leastDecimals = 0;
        }
    }

    private boolean refuse(byte[] b, long line, int start, int field, boolean last, String expected) {
        if (last) {
            cut(line, "its last field is not whole");
            return false;
        }
        String shown = fields.text(b, field);
        String name = places.entrySet().stream()
                .filter(e -> e.getValue() == field)
                .map(Map.Entry::getKey)
                .findFirst()
                .orElse("field " + (field + 1));
        problems.add(
                line,
                fields.from(field) - start + 1,
                CsvHeader.shown(name) + (shown.isEmpty() ? " is empty" : " is '" + CsvHeader.shown(shown) + "'")
                        + "; expected " + expected + ". Nothing was measured. Repair or remove the row.");
        return false;
    }

    /** Puts what has been read, less the other where there is one, times the scale. */
    private void put(int c) {
        ColumnFrom source = from[c];
        double value = number.value();
        long mantissa = number.mantissa();
        int decimals = number.decimals();
        boolean exact = number.isExact();
        if (minus[c] >= 0) {
            value -= other.value();
            exact &= other.isExact()
                    && Math.abs(mantissa) <= Decimal.EXACT
                    && Math.abs(other.mantissa()) <= Decimal.EXACT;
            if (exact) {
                int most = Math.max(decimals, other.decimals());
                exact = most <= 15;
                mantissa = aligned(mantissa, most - decimals) - aligned(other.mantissa(), most - other.decimals());
                decimals = most;
                exact &= Math.abs(mantissa) <= Decimal.EXACT;
            }
        }
        if (source.onAbove().isPresent()) {
            stage.put(c, value * source.scale() > source.onAbove().getAsDouble() ? 1 : 0);
        } else if (exact && shift[c] != NO_POWER) {
            stagePut(stage, c, mantissa, decimals - shift[c]);
        } else {
            stage.put(c, value * source.scale());
        }
    }

    /** Times a power of ten; what overflows is no longer exact, and told by the caller's bounds. */
    private static long aligned(long mantissa, int zeros) {
        long m = mantissa;
        for (int k = 0; k < zeros; k++) {
            if (Math.abs(m) > Long.MAX_VALUE / 100) {
                return Long.MAX_VALUE / 4;
            }
            m *= 10;
        }
        return m;
    }

    /** Stages {@code mantissa / 10^decimals}, also with decimals below 0. */
    static void stagePut(RowStage stage, int c, long mantissa, int decimals) {
        long m = mantissa;
        int behind = decimals;
        while (behind < 0 && Math.abs(m) <= Decimal.EXACT) {
            m *= 10;
            behind++;
        }
        int row = stage.rows;
        stage.value[c][row] = NumberText.nearest(m, behind);
        boolean small = behind >= 0 && behind <= 22 && Math.abs(m) <= Decimal.EXACT;
        stage.mantissa[c][row] = m;
        stage.decimals[c][row] = small ? (byte) behind : -1;
    }
}
