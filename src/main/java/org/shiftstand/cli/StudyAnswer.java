package org.shiftstand.cli;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.ClauseAbility;
import org.shiftstand.judge.GaugeOutcome;
import org.shiftstand.report.GaugeStudyJson;
import org.shiftstand.report.GaugeStudyText;

/**
 * What a gauge study answers: to a person or a program, to the file that keeps it, and to the shell.
 *
 * @param values the file of values that a study on a rig has left; empty for an import
 * @param kept the rig description with the result in it; empty where nobody asked for it
 */
record StudyAnswer(GaugeOutcome outcome, Optional<Path> values, Optional<Kept> kept) {
    /** A rig description and where it goes. */
    record Kept(TextFile description, Path file, boolean force) {}

    /** Prints the result, writes the description, and says where the files are: beside JSON, on standard error. */
    void tell(PrintWriter out, PrintWriter err, boolean json) {
        if (json) {
            GaugeStudyJson.write(outcome, out);
        } else {
            out.print(GaugeStudyText.of(outcome));
        }
        PrintWriter notes = json ? err : out;
        if (values.isPresent() || kept.isPresent()) {
            notes.println();
        }
        values.ifPresent(file -> notes.println("Values: " + file));
        kept.ifPresent(keep -> {
            byte[] text = keep.description().text().getBytes(StandardCharsets.UTF_8);
            notes.println("Rig description: " + Output.writeWhole(keep.file(), keep.force(), to -> to.write(text)));
        });
        out.flush();
    }

    /** With a spec: 1 where the rig cannot judge a clause, 3 where the study does not tell. */
    int exitCode() {
        if (outcome.spec().isEmpty()) {
            return ExitCode.DONE;
        }
        boolean cannot = outcome.abilities().stream().anyMatch(a -> a.word() == ClauseAbility.Word.CANNOT);
        boolean open = outcome.abilities().isEmpty()
                || outcome.abilities().stream().anyMatch(a -> a.word() == ClauseAbility.Word.NOT_TOLD);
        return cannot ? ExitCode.FAIL : open ? ExitCode.NO_VERDICT : ExitCode.DONE;
    }
}
