package org.shiftstand.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Clock;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Judged;
import org.shiftstand.report.ResultJson;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Judges a record or capture by a spec. */
@Command(
        name = "judge",
        sortOptions = false,
        description = {
            "Judges a run record or a CSV capture by a spec.",
            "",
            "A record brings its own spec, profile and procedure; the files named here go before them. "
                    + "The verdict is pass (exit 0), fail (1) or no verdict (3: the evidence does not decide, and "
                    + "the reason is told)."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand judge capture.csv --spec passive-capture",
            "  shiftstand judge reports/TD-0107-…/TD-0107.run --spec stricter.spec.yaml --report again"
        })
final class JudgeCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(paramLabel = "FILE", description = "Run record (.run) or CSV capture (.csv, .csv.gz).")
    private Path file;

    @Mixin
    private JudgingOptions options = new JudgingOptions();

    @Option(
            names = "--report",
            paramLabel = "DIR",
            description = "Write report.html, result.json and shifts.csv to this folder.")
    private @Nullable Path report;

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Option(names = "--force", description = "Overwrite files of those names in the folder of --report.")
    private boolean force;

    @Option(names = "--json", description = "Print the whole result as JSON (specs/schema/result.schema.json).")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        JudgeOptions said = options.judgeOptions();
        Reports reports = new Reports(Clock.systemUTC());
        RunFolder folder = report == null ? null : reports.folder(report, force);
        pdf.ready(folder, Reports.HTML);
        try (JudgeInput input = JudgeInput.open(file, options.csv())) {
            JudgeCase judgeCase = input.assemble(options.named(), said);
            Judged judged = Judge.judge(input.source(), judgeCase);
            if (folder != null) {
                reports.write(judged, folder, file);
                pdf.write(folder, Reports.HTML);
            }
            if (json) {
                ResultJson.write(judged.judgement(), System.out);
                System.out.flush();
            } else {
                Summary.print(judged.judgement(), command.commandLine().getOut());
                if (folder != null) {
                    command.commandLine().getOut().println("Report: " + folder.resolve(Reports.HTML));
                }
            }
            return ExitCode.of(judged.judgement().verdict());
        }
    }
}
