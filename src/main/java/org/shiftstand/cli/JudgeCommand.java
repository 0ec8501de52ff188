package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.Bag;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.judge.Judge;
import org.shiftstand.judge.JudgeCase;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.Judgement;
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
                    + "the reason is told).",
            "",
            "A folder means every record and capture in it and below, each judged by itself, on all cores: a "
                    + "line each in the order of their names, then how many of each verdict. Exit 1 where any "
                    + "fails, else 2 where any cannot be judged, else 3 where any has no verdict, else 0."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand judge capture.csv --spec passive-capture",
            "  shiftstand judge reports/TD-0107-…/TD-0107.run --spec stricter.spec.yaml --report again",
            "  shiftstand judge reports --spec stricter.spec.yaml"
        })
final class JudgeCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(
            paramLabel = "FILE",
            description = "Run record (.run) or CSV capture (.csv, .csv.gz), or a folder of them.")
    private Path file;

    @Mixin
    private JudgingOptions options = new JudgingOptions();

    @Option(
            names = "--report",
            paramLabel = "DIR",
            description =
                    "Write report.html, result.json and shifts.csv to this folder; of a folder of files, to one in it "
                            + "for each.")
    private @Nullable Path report;

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Option(names = "--force", description = "Overwrite files of those names in the folder of --report.")
    private boolean force;

    @Option(
            names = "--json",
            description = "Print the whole result as JSON (specs/schema/result.schema.json); of a folder of files, one "
                    + "document with file, verdict, unit, reason and problems of each.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        return Files.isDirectory(file) && !Bag.looksLikeOne(file) ? judgeAll(ManyFiles.below(file)) : judgeOne();
    }

    private int judgeOne() throws IOException {
        Optional<RunFolder> folder = Optional.ofNullable(report).map(this::folder);
        pdf.ready(folder.orElse(null), Reports.HTML);
        Judgement judgement = judge(file, folder);
        if (json) {
            ResultJson.write(judgement, System.out);
            System.out.flush();
        } else {
            PrintWriter out = command.commandLine().getOut();
            Summary.print(judgement, out);
            folder.ifPresent(written -> out.println("Report: " + written.resolve(Reports.HTML)));
        }
        return ExitCode.of(judgement.verdict());
    }

    private int judgeAll(ManyFiles files) {
        if (report == null) {
            pdf.ready(null, Reports.HTML);
        } else {
            pdf.ready();
        }
        PrintWriter out = command.commandLine().getOut();
        JudgedFiles judged = new JudgedFiles();
        files.each(path -> judged(files, path), one -> {
            judged.add(one);
            if (!json) {
                JudgedFiles.print(one, out);
            }
        });
        if (json) {
            judged.json(out);
            judged.printProblems(command.commandLine().getErr());
        } else {
            judged.printEnd(out, command.commandLine().getErr());
        }
        return judged.exitCode();
    }

    private JudgedFiles.One judged(ManyFiles files, Path path) {
        Path shown = files.shown(path);
        try {
            Optional<RunFolder> folder = Optional.ofNullable(report).map(all -> folder(files.placeBelow(all, path)));
            folder.ifPresent(made -> pdf.ready(made, Reports.HTML));
            return JudgedFiles.One.judged(shown, judge(path, folder));
        } catch (BadInput e) {
            return JudgedFiles.One.notJudged(shown, e.problems());
        } catch (IOException e) {
            return JudgedFiles.One.notJudged(
                    shown,
                    List.of(new Problem(
                            path.toString(), 0, 0, "cannot be read (" + Output.cause(e) + "); check its rights")));
        }
    }

    private RunFolder folder(Path named) {
        return new Reports(Clock.systemUTC()).folder(named, force);
    }

    private Judgement judge(Path samples, Optional<RunFolder> folder) throws IOException {
        try (JudgeInput input = JudgeInput.open(samples, options.csv())) {
            JudgeCase judgeCase = input.assemble(options.named(), options.judgeOptions());
            Judged judged = Judge.judge(input.source(), judgeCase);
            if (folder.isPresent()) {
                new Reports(Clock.systemUTC()).write(judged, folder.get(), samples);
                pdf.write(folder.get(), Reports.HTML);
            }
            return judged.judgement();
        }
    }
}
