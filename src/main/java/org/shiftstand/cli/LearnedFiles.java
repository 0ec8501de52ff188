package org.shiftstand.cli;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.learn.FirmwareHeader;
import org.shiftstand.learn.FirmwareTable;
import org.shiftstand.learn.FixedPoint;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.Traces;
import org.shiftstand.learn.Written;
import org.shiftstand.report.LearnedJson;
import org.shiftstand.report.LearnedPage;
import org.shiftstand.report.ReportOptions;

/** The files that {@code characterise} leaves: each appears whole or not at all. */
final class LearnedFiles {
    private static final String JSON = "learned.json";
    static final String PAGE = "learned.html";

    private final String name;

    LearnedFiles(String name) {
        this.name = name;
    }

    String profile() {
        return name + ".profile.yaml";
    }

    private String spec() {
        return name + "-learned.spec.yaml";
    }

    private String header() {
        return FirmwareHeader.fileName(name);
    }

    /** The named folder, refused at once when it holds files that may not be overwritten. */
    RunFolder folder(Path folder, boolean force) {
        return RunFolder.named(folder, force).mustNotHold(profile(), spec(), header(), JSON, PAGE);
    }

    /** Writes everything there is. @return what was written and what was not, a line each */
    List<String> write(RunFolder folder, Learned learned, Traces.Drawn drawn, DraftOfLearned draft, FixedPoint fixed) {
        List<String> lines = new ArrayList<>();
        lines.add(line("profile", folder, profile(), draft.profile()));
        draft.spec().ifPresent(text -> lines.add(line("draft spec", folder, spec(), new Written.Text(text))));
        lines.add(line("C header", folder, header(), FirmwareHeader.of(learned, fixed)));
        lines.add(said("numbers", folder.write(JSON, out -> json(learned, draft, fixed, out))));
        lines.add(page(folder, learned, drawn, draft));
        return lines;
    }

    /** Everything as one document. */
    static void json(Learned learned, DraftOfLearned draft, FixedPoint fixed, OutputStream out) throws IOException {
        FirmwareTable.Made made = FirmwareTable.of(learned, fixed);
        LearnedJson.write(
                learned, made.tooLarge().isEmpty() ? Optional.of(made.table()) : Optional.empty(), draft.proofs(), out);
    }

    private static String page(RunFolder folder, Learned learned, Traces.Drawn drawn, DraftOfLearned draft) {
        ReportOptions made = new ReportOptions(Clock.systemUTC().instant(), Version.number());
        return said("page", folder.write(PAGE, out -> {
            Writer to = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            LearnedPage.write(learned, drawn.overlays(), draft.proofs(), made, to);
        }));
    }

    private static String said(String what, Path file) {
        return String.format(Locale.ROOT, "%-11s %s", what, file);
    }

    private static String line(String what, RunFolder folder, String file, Written written) {
        return written.match(new Written.Cases<String>() {
            @Override
            public String text(String text) {
                folder.write(file, out -> {
                    Writer to = new OutputStreamWriter(out, StandardCharsets.UTF_8);
                    to.write(text);
                    to.flush();
                });
                return said(what, folder.resolve(file));
            }

            @Override
            public String withheld(List<String> reasons) {
                return "no " + what + ": " + String.join("; ", reasons);
            }
        });
    }
}
