package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** Which field of a row holds which column, found from the header row; all its problems at once. */
final class CsvHeader {
    private static final String MISSING = "no column";

    private final List<String> fields;
    private final Column[] columnOf;
    private final List<String> notices = new ArrayList<>();

    private CsvHeader(List<String> fields, Column[] columnOf) {
        this.fields = fields;
        this.columnOf = columnOf;
    }

    /**
     * @param line of the header row, 1-based
     * @param record the header row
     * @throws BadInput where a required column is missing, or a header stands twice
     */
    static CsvHeader of(String file, int line, CsvRecord record, CsvOptions options) {
        List<String> fields = record.fields();
        List<Integer> starts = record.columns();
        var problems = new ArrayList<Problem>();
        Map<String, Integer> places = new LinkedHashMap<>();
        for (int i = 0; i < fields.size(); i++) {
            String name = fields.get(i).strip();
            Integer before = places.putIfAbsent(name, i);
            if (before != null && !name.isEmpty()) {
                problems.add(new Problem(
                        file,
                        line,
                        starts.get(i),
                        "the header '" + name + "' stands twice (fields " + (before + 1) + " and " + (i + 1)
                                + "); expected each name once. Rename one of them."));
            }
        }
        var columnOf = new Column[fields.size()];
        for (Column column : Column.values()) {
            String wanted = options.columns().getOrDefault(column.header(), column.header());
            Integer at = places.get(wanted);
            if (at != null && columnOf[at] == null) {
                columnOf[at] = column;
            } else if (at != null) {
                problems.add(new Problem(
                        file,
                        line,
                        starts.get(at),
                        "the header '" + wanted + "' is asked for as " + columnOf[at].header() + " and as "
                                + column.header() + "; expected one column for each."));
            } else if (column.required() || options.columns().containsKey(column.header())) {
                problems.add(new Problem(file, line, 1, missing(column, wanted, fields)));
            }
        }
        if (problems.stream().anyMatch(p -> p.text().startsWith(MISSING))) {
            problems.add(new Problem(
                    file, 0, 0, "a capture of another logger? See what it is: shiftstand import --dry-run " + file));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        var header = new CsvHeader(fields, columnOf);
        header.noticeUnknown();
        return header;
    }

    private static String missing(Column column, String wanted, List<String> fields) {
        String text = MISSING + " '" + wanted + "'"
                + (wanted.equals(column.header()) ? "" : " (for " + column.header() + ")")
                + "; expected a header row with time_s, hall_sin and hall_cos, found " + found(fields) + "."
                + Nearest.hint(wanted, fields.stream().map(String::strip).toList());
        if (fields.size() == 1 && fields.get(0).matches(".*[;\t].*")) {
            return text + " The fields look separated by " + (fields.get(0).contains(";") ? "';'" : "tabs")
                    + "; a capture is separated by commas (RFC 4180), with a decimal point.";
        }
        return text + " Name it with --column " + column.header() + "=HEADER.";
    }

    private static String found(List<String> fields) {
        String all = String.join(", ", fields.stream().map(CsvHeader::shown).toList());
        return all.length() <= 200 ? all : all.substring(0, 200) + "…";
    }

    /** Text for a message: control characters replaced, shortened. */
    static String shown(String text) {
        String plain = text.replaceAll("\\p{Cntrl}", "?");
        return plain.length() <= 40 ? plain : plain.substring(0, 40) + "…";
    }

    private void noticeUnknown() {
        var unknown = new ArrayList<String>();
        for (int i = 0; i < columnOf.length; i++) {
            if (columnOf[i] == null) {
                unknown.add(shown(fields.get(i).strip()));
            }
        }
        if (!unknown.isEmpty()) {
            notices.add((unknown.size() == 1 ? "column kept aside, not used: " : "columns kept aside, not used: ")
                    + String.join(", ", unknown));
        }
    }

    /** For each field of a row the ordinal of its column, −1 where it is not used. */
    int[] columnOfField() {
        return Arrays.stream(columnOf).mapToInt(c -> c == null ? -1 : c.index()).toArray();
    }

    boolean[] present() {
        var present = new boolean[Column.COUNT];
        for (Column column : columnOf) {
            if (column != null) {
                present[column.index()] = true;
            }
        }
        return present;
    }

    String name(int field) {
        return shown(fields.get(field).strip());
    }

    List<String> notices() {
        return notices;
    }
}
