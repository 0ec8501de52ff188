package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import org.shiftstand.history.DisclosedNames;
import org.shiftstand.judge.Judged;
import org.shiftstand.report.ReportFiles;
import org.shiftstand.report.ReportOptions;

/** Writes what a judged unit leaves behind: report, result, shift table. */
final class Reports {
    static final String HTML = ReportFiles.HTML;
    static final String RESULT = ReportFiles.RESULT;
    static final String SHIFTS = ReportFiles.SHIFTS;

    private final Clock clock;

    Reports(Clock clock) {
        this.clock = clock;
    }

    /** The named folder, refused at once when it holds a report that may not be overwritten. */
    RunFolder folder(Path folder, boolean force) {
        return RunFolder.named(folder, force).mustNotHold(HTML, RESULT, SHIFTS);
    }

    /**
     * Writes the three files; each appears whole, the report last. Names that lie beside the samples stand in the report in the
     * place of their digests, and nowhere else.
     *
     * @param samples the record or capture
     */
    void write(Judged judged, RunFolder folder, Path samples) {
        folder.write(SHIFTS, ReportFiles.shifts(judged)::writeTo);
        folder.write(RESULT, ReportFiles.result(judged)::writeTo);
        folder.write(
                HTML,
                ReportFiles.html(disclosed(judged, samples), new ReportOptions(clock.instant(), Version.number()))
                        ::writeTo);
    }

    private static Judged disclosed(Judged judged, Path samples) {
        try {
            return new Judged(judged.judgement().naming(DisclosedNames.byDigest(samples)), judged.track());
        } catch (IOException e) {
            return judged; // a folder that cannot be listed discloses no names
        }
    }
}
