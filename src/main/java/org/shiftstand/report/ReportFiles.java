package org.shiftstand.report;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.shiftstand.judge.Judged;

/** The files that tell of one judged run, by their names; each flushes what it writes to and does not close it. */
public final class ReportFiles {
    public static final String HTML = "report.html";
    public static final String RESULT = "result.json";
    public static final String SHIFTS = "shifts.csv";

    private ReportFiles() {}

    /** Writes one file. */
    public interface Content {
        void writeTo(OutputStream out) throws IOException;
    }

    /** The shift table as CSV. */
    public static Content shifts(Judged judged) {
        return out -> {
            Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            ShiftCsv.write(judged.judgement().table(), text);
            text.flush();
        };
    }

    /** The result as JSON. */
    public static Content result(Judged judged) {
        return out -> ResultJson.write(judged.judgement(), out);
    }

    /** The report as one page. */
    public static Content html(Judged judged, ReportOptions options) {
        return out -> {
            Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            HtmlReport.write(judged.judgement(), Optional.of(judged.track()), options, text);
            text.flush();
        };
    }
}
