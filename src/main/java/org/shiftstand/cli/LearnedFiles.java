package org.shiftstand.cli;

import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.shiftstand.learn.FirmwareHeader;
import org.shiftstand.learn.FixedPoint;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.Traces;
import org.shiftstand.learn.Written;

/** The files that {@code characterise} leaves: each appears whole or not at all. */
final class LearnedFiles {
    private static final String JSON = "learned.json";
    private static final String PAGE = "learned.html";

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
        return name.replace('-', '_') + "_learned.h";
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
        return lines;
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
                return String.format(java.util.Locale.ROOT, "%-11s %s", what, folder.resolve(file));
            }

            @Override
            public String withheld(List<String> reasons) {
                return "no " + what + ": " + String.join("; ", reasons);
            }
        });
    }
}
