package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;

/** Parses one capture into a spool: encoding, header, rows, and what only the whole file can tell. */
final class CsvParser implements CsvCapture.Parser {
    private final String file;
    private final CsvOptions options;
    private final Spool spool;
    private final CsvProblems problems;
    private final List<String> notices = new ArrayList<>();
    private final Bytes bytes;

    CsvParser(String file, InputStream text, CsvOptions options, Spool spool) {
        this.file = file;
        this.options = options;
        this.spool = spool;
        problems = new CsvProblems(file);
        bytes = new Bytes(text, problems);
    }

    /** Line reached. */
    @Override
    public long line() {
        return bytes.line;
    }

    /**
     * Reads to the end.
     *
     * @return the source but for its digest, which is only known now
     */
    @Override
    public SpooledSource.Parsed parse() throws IOException {
        CsvHeader header = header();
        boolean[] present = header.present();
        var check = new RowCheck(options, header.present());
        var rows = new CsvRows(header, check, problems, notices);
        StagedRows.spool(present, bytes, rows, check, spool);
        present[Column.REQUEST.index()] = false; // not spooled: a request is an event
        problems.throwIfAny();
        check.whole(problems);
        problems.throwIfAny();
        notices.addAll(check.notices());
        var scale = new double[Column.COUNT];
        for (Column column : Column.values()) {
            scale[column.index()] = options.scale(column);
        }
        return new SpooledSource.Parsed(spool, present, scale, check.intervalS(), check.requests(), notices);
    }

    private CsvHeader header() throws IOException {
        if (!bytes.hasLine()) {
            throw problems.fatal(
                    0,
                    0,
                    "the file is empty; expected a header row and samples. Check that the logger wrote something.");
        }
        CsvEncoding.check(bytes, problems);
        int comments = 0;
        while (bytes.hasLine() && bytes.buffer[bytes.position] == '#') {
            skipLine();
            comments++;
        }
        if (comments > 0) {
            notices.add(comments + " comment line" + (comments == 1 ? "" : "s") + " before the header left out");
        }
        if (!bytes.hasLine()) {
            throw problems.fatal(
                    0, 0, "the file has no header row; expected time_s,hall_sin,hall_cos and one row a sample.");
        }
        int line = (int) bytes.line;
        CsvRecord record = CsvRecord.read(bytes);
        if (!record.closed()) {
            throw problems.fatal(line, 1, "a quoted header does not end; expected a closing '\"'. Repair the line.");
        }
        CsvHeader header = CsvHeader.of(file, line, record, options);
        notices.addAll(header.notices());
        return header;
    }

    private void skipLine() {
        int p = bytes.position;
        while (bytes.buffer[p] != '\n') {
            p++;
        }
        bytes.nextLine(p);
    }
}
