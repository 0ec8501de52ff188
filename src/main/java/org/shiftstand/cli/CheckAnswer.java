package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.history.DisclosedNames;
import org.shiftstand.history.HistoryQueue;
import org.shiftstand.report.JUnitXml;
import org.shiftstand.report.JudgementJUnit;
import org.shiftstand.report.ResultJson;
import org.shiftstand.rig.RunEnd;

/** What a check answers: to a person or a program, to the history, to a build server, and to the shell. */
record CheckAnswer(Bench.Checked checked) {
    /** Prints the result; beside JSON, that the run ended early goes to standard error. */
    void tell(PrintWriter text, PrintWriter err, boolean json) throws IOException {
        RunEnd end = checked.end();
        if (!end.reason().isEmpty()) {
            (json ? err : text).println("The run ended early: " + end.reason() + ". " + end.supply());
        }
        if (json) {
            ResultJson.write(checked.judged().judgement(), System.out);
            System.out.flush();
            return;
        }
        Summary.print(checked.judged().judgement(), text);
        text.println("Report: " + checked.folder().resolve(Reports.HTML));
        text.println("Record: " + checked.record());
        text.flush(); // on the way out by a signal nobody does it later
    }

    /** A run that was not made to its end is an error of its own: it may have passed as far as it went. */
    JUnitXml.Suite testResults() {
        return JudgementJUnit.suite(
                checked.judged().judgement(),
                String.valueOf(checked.record().getFileName()),
                Optional.of(checked.end().reason()).filter(why -> !why.isEmpty()));
    }

    /** Adds the run to the history. What cannot be added now waits; a history that is away keeps no bench from working. */
    void post(PrintWriter err) {
        SilentLog.start();
        try {
            Path folder = checked.folder().path();
            HistoryQueue.Posted posted = HistorySettings.queue()
                    .post(
                            HistorySettings.database(Optional.empty()),
                            Files.readAllBytes(folder.resolve(Reports.RESULT)),
                            folder.toString(),
                            DisclosedNames.byDigest(checked.record()));
            if (!posted.posted()) {
                err.println("The history is away, and this run is added once it is there again: " + posted.why());
            } else if (posted.sent() > 0) {
                err.println("The history is there again; runs that had waited and were added: " + posted.sent());
            }
        } catch (BadInput | IOException | UncheckedIOException e) {
            err.println("This run could not be added to the history: " + e.getMessage()
                    + ". 'shiftstand history rebuild' adds it later.");
        }
    }

    int exitCode() {
        return early(checked.end())
                .orElseGet(() -> ExitCode.of(checked.judged().judgement().verdict()));
    }

    /** What a run that did not do all of its script tells the shell; empty where it did. */
    static Optional<Integer> early(RunEnd end) {
        if (end instanceof RunEnd.Completed) {
            return Optional.empty();
        }
        boolean outcome = end instanceof RunEnd.StoppedByRule rule && rule.rule() == RunEnd.StoppedByRule.Rule.OUTCOME;
        return Optional.of(outcome ? ExitCode.FAIL : ExitCode.withoutResult(end));
    }
}
