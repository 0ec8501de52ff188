package org.shiftstand.report;

import java.io.IOException;
import java.util.List;

/** Cells and lines of CSV as all our tables write them: RFC 4180, lines ended by LF, no text that a spreadsheet takes as a formula. */
public final class CsvCells {
    private CsvCells() {}

    /** Text that starts no formula: a leading {@code =}, {@code +}, {@code -}, {@code @}, tab or CR gets an apostrophe before it. */
    public static String text(String text) {
        String visible = text.strip(); // a spreadsheet may skip what stands before
        boolean formula = !visible.isEmpty() && "=+-@".indexOf(visible.charAt(0)) >= 0;
        return formula || text.startsWith("\t") || text.startsWith("\r") ? "'" + text : text;
    }

    /** A number with the fewest digits that read back as the same. */
    public static String number(double value) {
        return JsonNumber.text(value);
    }

    /** One line; cells are quoted where they must be. */
    public static void row(List<String> cells, Appendable out) throws IOException {
        for (int i = 0; i < cells.size(); i++) {
            if (i > 0) {
                out.append(',');
            }
            out.append(quoted(cells.get(i)));
        }
        out.append('\n');
    }

    private static String quoted(String cell) {
        boolean needed = false;
        for (int i = 0; i < cell.length(); i++) {
            char c = cell.charAt(i);
            needed |= c == ',' || c == '"' || c == '\n' || c == '\r';
        }
        return needed ? '"' + cell.replace("\"", "\"\"") + '"' : cell;
    }
}
