package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** One pass over a file of unknown kind: its layout, what each column is like, and some rows of it all. Fixed memory. */
final class Survey {
    /** More columns are looked at no further. */
    static final int MOST_COLUMNS = 64;

    private static final int KEPT = 4096;

    private final Layout layout;
    private final List<ColumnSurvey> columns;
    private final double[][] kept;
    private int keptRows;
    private long stride = 1;
    private long rows;

    private Survey(Layout layout, List<ColumnSurvey> columns) {
        this.layout = layout;
        this.columns = columns;
        kept = new double[columns.size()][KEPT];
    }

    static Survey of(String file, InputStream text, Answers answers) throws IOException {
        var problems = new CsvProblems(file);
        var bytes = new Bytes(text, problems);
        if (!bytes.hasLine()) {
            throw problems.fatal(0, 0, "the file is empty; expected samples. Check that the logger wrote something.");
        }
        CsvEncoding.check(bytes, problems);
        bytes.refuseNul(bytes.position);
        Layout layout = Layout.of(file, bytes, answers, problems);
        List<ColumnSurvey> columns = new ArrayList<>();
        Heading heading = layout.heading();
        for (int i = 0; i < Math.min(MOST_COLUMNS, heading.names().size()); i++) {
            String unit = i < heading.units().size() ? heading.units().get(i) : "";
            columns.add(new ColumnSurvey(
                    heading.names().get(i), HeaderWord.of(heading.names().get(i), unit)));
        }
        var survey = new Survey(layout, List.copyOf(columns));
        survey.read(bytes);
        return survey;
    }

    private void read(Bytes bytes) throws IOException {
        var fields = new Fields(layout.format().delimiter().mark());
        var number = new NumberText(layout.format().decimal(), layout.format().grouping());
        int skip = layout.heading().preamble()
                + (layout.format().header() ? 1 : 0)
                + (layout.heading().units().isEmpty() ? 0 : 1);
        while (bytes.hasLine()) {
            fields.split(bytes.buffer, bytes.position, bytes.limit);
            boolean last = bytes.isEnd(fields.end());
            bytes.nextLine(fields.end());
            boolean empty = fields.count() == 1 && fields.isBlank(bytes.buffer, 0);
            // a last line that is cut short says nothing; rows that are wrong are told when the file is read
            if (--skip >= 0 || empty || (last && fields.count() < columns.size())) {
                continue;
            }
            row(bytes.buffer, fields, number);
        }
    }

    private void row(byte[] b, Fields fields, NumberText number) {
        boolean keep = rows++ % stride == 0;
        if (keep && keptRows == KEPT) {
            thin();
            keep = (rows - 1) % stride == 0;
        }
        for (int i = 0; i < columns.size(); i++) {
            ColumnSurvey column = columns.get(i);
            double value = Double.NaN;
            if (i >= fields.count() || fields.isBlank(b, i)) {
                column.blank();
            } else if (number.read(b, fields.from(i), fields.to(i))) {
                column.number(number);
                value = number.value();
            } else if (Stamp.nanos(fields.text(b, i)).isPresent()) {
                column.stamp();
            } else {
                column.text();
            }
            if (keep) {
                kept[i][keptRows] = value;
            }
        }
        keptRows += keep ? 1 : 0;
    }

    /** Every second row goes, and from now on every second is not kept. */
    private void thin() {
        for (double[] values : kept) {
            for (int k = 0; k < KEPT / 2; k++) {
                values[k] = values[2 * k];
            }
        }
        keptRows = KEPT / 2;
        stride *= 2;
    }

    Layout layout() {
        return layout;
    }

    List<ColumnSurvey> columns() {
        return columns;
    }

    long rows() {
        return rows;
    }

    /** The rows kept of a column, evenly from the whole file. */
    double[] values(int column) {
        return Arrays.copyOf(kept[column], keptRows);
    }
}
