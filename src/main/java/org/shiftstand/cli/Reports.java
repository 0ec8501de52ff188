package org.shiftstand.cli;

import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.util.Optional;
import org.shiftstand.judge.Judged;
import org.shiftstand.report.HtmlReport;
import org.shiftstand.report.ReportOptions;
import org.shiftstand.report.ResultJson;
import org.shiftstand.report.ShiftCsv;

/** Writes what a judged unit leaves behind: report, result, shift table. */
final class Reports {
    static final String HTML = "report.html";
    static final String RESULT = "result.json";
    static final String SHIFTS = "shifts.csv";

    private final Clock clock;

    Reports(Clock clock) {
        this.clock = clock;
    }

    /** The named folder, refused at once when it holds a report that may not be overwritten. */
    RunFolder folder(Path folder, boolean force) {
        return RunFolder.named(folder, force).mustNotHold(HTML, RESULT, SHIFTS);
    }

    /** Writes the three files; each appears whole, the report last. */
    void write(Judged judged, RunFolder folder) {
        folder.write(SHIFTS, out -> {
            Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            ShiftCsv.write(judged.judgement().table(), text);
            text.flush();
        });
        folder.write(RESULT, out -> ResultJson.write(judged.judgement(), out));
        folder.write(HTML, out -> {
            Writer text = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            HtmlReport.write(
                    judged.judgement(),
                    Optional.of(judged.track()),
                    new ReportOptions(clock.instant(), Version.number()),
                    text);
            text.flush();
        });
    }
}
