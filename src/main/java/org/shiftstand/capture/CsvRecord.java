package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.List;

/**
 * All fields of one record as text (RFC 4180), read the slow way: the header, and rows that are wrong.
 *
 * @param fields as they stand, quotes taken off
 * @param columns where each starts in its line, 1-based
 * @param closed false where a quoted field has no end
 */
record CsvRecord(List<String> fields, List<Integer> columns, boolean closed) {
    /** Reads the record at {@code bytes.position} and goes to the next line. */
    static CsvRecord read(Bytes bytes) {
        var fields = new ArrayList<String>();
        var columns = new ArrayList<Integer>();
        var field = new CsvField();
        int start = bytes.position;
        int p = start - 1;
        int lineBreaks = 0;
        boolean closed = true;
        do {
            columns.add(p + 1 - start + 1);
            p = field.read(bytes, p + 1);
            fields.add(field.value());
            lineBreaks += field.lineBreaks();
            closed &= field.isClosed();
        } while (bytes.buffer[p] == ',');
        bytes.nextLine(p);
        bytes.line += lineBreaks;
        return new CsvRecord(fields, columns, closed);
    }
}
