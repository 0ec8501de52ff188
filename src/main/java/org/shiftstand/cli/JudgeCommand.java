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
import org.shiftstand.report.JUnitXml;
import org.shiftstand.report.JudgementJUnit;
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
            "  shiftstand judge reports --spec stricter.spec.yaml --junit reports.xml"
        })
final class JudgeCommand implements Callable<Integer> {
    private static final String WHOLE = "shiftstand judge";

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

    @Mixin
    private JUnitOption junit = new JUnitOption();

    @Option(
            names = "--force",
            description = "Overwrite the file of --junit, and files of those names in the folder of --report.")
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
        junit.ready(force);
        return Files.isDirectory(file) && !Bag.isNamedBy(file) ? judgeAll(ManyFiles.below(file)) : judgeOne();
    }

    private int judgeOne() throws IOException {
        Optional<RunFolder> folder = Optional.ofNullable(report).map(this::folder);
        pdf.ready(folder.orElse(null), Reports.HTML);
        Judgement judgement = judge(file, folder);
        if (junit.wanted()) {
            junit.results(WHOLE)
                    .add(JudgementJUnit.suite(judgement, name(file), Optional.empty()))
                    .write(force);
        }
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

    private static String name(Path file) {
        Path last = file.getFileName();
        return last == null ? file.toString() : last.toString();
    }

    private int judgeAll(ManyFiles files) throws IOException {
        if (report == null) {
            pdf.ready(null, Reports.HTML);
        } else {
            pdf.ready();
        }
        PrintWriter out = command.commandLine().getOut();
        JudgedFiles judged = new JudgedFiles();
        JUnitOption.Results results = junit.results(WHOLE);
        files.each(path -> judged(files, path), worked -> {
            judged.add(worked.one());
            worked.suite().ifPresent(results::add);
            if (!json) {
                JudgedFiles.print(worked.one(), out);
            }
        });
        if (json) {
            judged.json(out);
            judged.printProblems(command.commandLine().getErr());
        } else {
            judged.printEnd(out, command.commandLine().getErr());
        }
        results.write(force);
        return judged.exitCode();
    }

    /**
     * What came of one file of many.
     *
     * @param suite where test results are wanted
     */
    private record Worked(JudgedFiles.One one, Optional<JUnitXml.Suite> suite) {}

    private Worked judged(ManyFiles files, Path path) {
        Path shown = files.shown(path);
        try {
            Optional<RunFolder> folder = Optional.ofNullable(report).map(all -> folder(files.placeBelow(all, path)));
            folder.ifPresent(made -> pdf.ready(made, Reports.HTML));
            Judgement judgement = judge(path, folder);
            return new Worked(
                    JudgedFiles.One.judged(shown, judgement),
                    junit.wanted()
                            ? Optional.of(JudgementJUnit.suiteOfMany(judgement, shown.toString()))
                            : Optional.empty());
        } catch (BadInput e) {
            return notJudged(shown, e.problems());
        } catch (IOException e) {
            return notJudged(
                    shown,
                    List.of(new Problem(
                            path.toString(), 0, 0, "cannot be read (" + Output.cause(e) + "); check its rights")));
        }
    }

    private Worked notJudged(Path shown, List<Problem> problems) {
        return new Worked(
                JudgedFiles.One.notJudged(shown, problems),
                junit.wanted()
                        ? Optional.of(JudgementJUnit.notJudged(
                                shown.toString(),
                                problems.stream().map(Problem::toString).toList()))
                        : Optional.empty());
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
