package org.shiftstand.cli;

import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Problem;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Named;
import org.shiftstand.learn.compare.Aspect;
import org.shiftstand.learn.compare.Change;
import org.shiftstand.learn.compare.ComparedRun;
import org.shiftstand.learn.compare.Comparing;
import org.shiftstand.learn.compare.Comparison;
import org.shiftstand.learn.compare.Margins;
import org.shiftstand.learn.compare.Sides;
import org.shiftstand.learn.compare.Unlike;
import org.shiftstand.report.ComparisonJUnit;
import org.shiftstand.report.ComparisonJson;
import org.shiftstand.report.ComparisonReport;
import org.shiftstand.report.ComparisonText;
import org.shiftstand.report.ReportOptions;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecReader;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Holds runs with a new firmware against runs with the old one. */
@Command(
        name = "compare",
        sortOptions = false,
        description = {
            "Tells whether CANDIDATE does the same as BASE, measure by measure: firmware acceptance.",
            "",
            "BASE and CANDIDATE are run records or CSV captures of one unit on one rig; several runs a side are "
                    + "joined by commas. Best are runs in turns (old, new, new, old): what drifts with time then falls on "
                    + "both, and what differs from run to run is not taken for the firmware's. Margins come from the "
                    + "clauses of the statistic equivalent-to in the spec, or from --margin.",
            "",
            "Equivalent (exit 0): every difference is shown to lie inside its margin; said wrongly in at most 5 %% of "
                    + "cases. Different (1): a difference is shown to be there, and is not shown to be inside. Not "
                    + "decided (3): neither; it is told how many more shifts would decide."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand compare old.run new.run --spec tarn-drive-firmware-change --junit acceptance.xml",
            "  shiftstand compare old-1.run,old-2.run new-1.run,new-2.run --margin landing=12deg \\",
            "      --margin landing:spread=2 --report change"
        })
final class CompareCommand implements Callable<Integer> {
    private static final String PAGE = "comparison.html";
    private static final String RESULT = "comparison.json";

    @picocli.CommandLine.Spec
    private CommandSpec command;

    @Parameters(index = "0", paramLabel = "BASE", description = "Runs with what was before; several: a.run,b.run.")
    private String base;

    @Parameters(index = "1", paramLabel = "CANDIDATE", description = "Runs with what is to be accepted.")
    private String candidate;

    @Option(
            names = "--spec",
            paramLabel = "S",
            completionCandidates = PackedNames.Specs.class,
            description = "Spec with the margins, a file or a bundled name; its settle band holds for all runs.")
    private @Nullable String spec;

    @Option(
            names = "--margin",
            paramLabel = "MEASURE=…",
            description = "Largest difference allowed: landing=6deg of means, landing:spread=1.5 of spreads (ratio), "
                    + "overtravel:proportion=10%% of how often it comes. Goes before the spec's, whose shifts and "
                    + "groups stay; else by sprocket and direction. May be repeated.")
    private List<String> margins = new ArrayList<>();

    @Option(
            names = "--unlike",
            paramLabel = "WORD,…",
            description =
                    "Compare although these are not alike: unit, rig, rig-description, simulated, profile, limits, "
                            + "procedure, supply, sample-rate, settle-band. Printed with the result.")
    private @Nullable String unlike;

    @Mixin
    private MeasureOptions options = new MeasureOptions();

    @Mixin
    private JUnitOption junit = new JUnitOption();

    @Option(
            names = "--report",
            paramLabel = "DIR",
            description = "Write comparison.html and comparison.json to this folder.")
    private @Nullable Path report;

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Option(names = "--force", description = "Overwrite the files of --junit and --report.")
    private boolean force;

    @Option(names = "--json", description = "Print the whole result as JSON (specs/schema/comparison.schema.json).")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        JudgeOptions said = options.judgeOptions();
        Asked asked = asked();
        refuseExisting();
        List<JudgeInput> open = new ArrayList<>();
        try {
            Sides sides = new Sides(
                    runs(files(base), asked.spec(), said, open), runs(files(candidate), asked.spec(), said, open));
            List<Unlike> found = Unlike.among(all(sides));
            refuse(sides, found, asked.allowed());
            Comparison comparison = Comparing.compare(sides, asked.spec(), asked.margins(), found);
            leave(comparison);
            return exit(comparison.change());
        } finally {
            open.forEach(JudgeInput::close);
        }
    }

    /** What was named beside the runs. */
    private record Asked(Optional<Spec> spec, List<Clause> margins, Set<Aspect> allowed) {}

    /** Everything that is wrong in it at once. */
    private Asked asked() {
        List<Problem> problems = new ArrayList<>();
        Optional<Spec> read = BadInput.gathered(
                        problems, () -> Optional.ofNullable(spec).map(SpecReader::find))
                .flatMap(s -> s);
        List<Clause> clauses = new ArrayList<>();
        for (String margin : margins) {
            BadInput.gathered(problems, () -> Margins.read(margin)).ifPresent(clauses::add);
        }
        Set<Aspect> allowed = BadInput.gathered(problems, () -> allowed(Optional.ofNullable(unlike)))
                .orElse(Set.of());
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return new Asked(read, clauses, allowed);
    }

    private static Set<Aspect> allowed(Optional<String> words) {
        List<String> named = words.map(w -> List.of(w.split(",", -1))).orElse(List.of());
        List<Problem> problems = named.stream()
                .filter(word -> Aspect.of(word).isEmpty())
                .map(word -> new Problem(
                        "--unlike " + word,
                        0,
                        0,
                        "is unknown; expected one or more of " + String.join(", ", Aspect.words()) + "."
                                + Nearest.hint(word, Aspect.words())))
                .toList();
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return named.stream().flatMap(word -> Aspect.of(word).stream()).collect(Collectors.toSet());
    }

    private void refuseExisting() {
        pdf.ready(report == null ? null : RunFolder.named(report, force).mustNotHold(PAGE, RESULT), PAGE);
        junit.ready(force);
    }

    /** A file whose own name has a comma is taken as it is. */
    private static List<Path> files(String typed) {
        return Files.exists(Path.of(typed))
                ? List.of(Path.of(typed))
                : Arrays.stream(typed.split(",", -1)).map(Path::of).toList();
    }

    private List<ComparedRun> runs(List<Path> files, Optional<Spec> named, JudgeOptions said, List<JudgeInput> open) {
        List<Problem> problems = new ArrayList<>();
        List<ComparedRun> runs = new ArrayList<>();
        for (Path file : files) {
            BadInput.gathered(problems, () -> measured(file, named, said, open)).ifPresent(runs::add);
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return runs;
    }

    private ComparedRun measured(Path file, Optional<Spec> named, JudgeOptions said, List<JudgeInput> open) {
        JudgeInput input = JudgeInput.open(file, options.csv());
        open.add(input);
        Named files =
                new Named(Optional.ofNullable(spec), options.profile(), Optional.empty()).withLimits(options.limits());
        return ComparedRun.measure(name(file), input, files, said, named);
    }

    private static String name(Path file) {
        Path last = file.getFileName();
        return last == null ? file.toString() : last.toString();
    }

    private static List<ComparedRun> all(Sides sides) {
        List<ComparedRun> all = new ArrayList<>(sides.base());
        all.addAll(sides.candidate());
        return all;
    }

    /** Everything at once that makes a difference say nothing of the firmware. */
    private static void refuse(Sides sides, List<Unlike> unlike, Set<Aspect> allowed) {
        List<Problem> problems = new ArrayList<>();
        List<Unlike> left =
                unlike.stream().filter(u -> !allowed.contains(u.aspect())).toList();
        left.forEach(u -> problems.add(new Problem("unlike", 0, 0, u.words())));
        if (!left.isEmpty()) {
            problems.add(new Problem(
                    "compare",
                    0,
                    0,
                    "the set-ups are not alike, and a difference would say nothing of the firmware; make both runs alike,"
                            + " or allow it by name: --unlike "
                            + left.stream().map(u -> u.aspect().word()).collect(Collectors.joining(","))));
        }
        twice("BASE", sides.base()).ifPresent(problems::add);
        twice("CANDIDATE", sides.candidate()).ifPresent(problems::add);
        firmware("BASE", sides.base()).ifPresent(problems::add);
        firmware("CANDIDATE", sides.candidate()).ifPresent(problems::add);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    /** A run that counts twice would make the values look twice as many. */
    private static Optional<Problem> twice(String side, List<ComparedRun> runs) {
        Map<String, String> seen = new HashMap<>();
        for (ComparedRun run : runs) {
            String before = seen.putIfAbsent(run.measurement().source().sha256(), run.name());
            if (before != null) {
                return Optional.of(new Problem(
                        side, 0, 0, run.name() + " holds the same samples as " + before + "; expected each run once"));
            }
        }
        return Optional.empty();
    }

    private static Optional<Problem> firmware(String side, List<ComparedRun> runs) {
        List<String> known =
                runs.stream().flatMap(run -> run.firmware().stream()).distinct().toList();
        return known.size() < 2
                ? Optional.empty()
                : Optional.of(new Problem(
                        side,
                        0,
                        0,
                        "its runs carry different firmware (" + String.join(", ", known) + "); expected one a side"));
    }

    private void leave(Comparison comparison) throws IOException {
        PrintWriter out = command.commandLine().getOut();
        if (junit.wanted()) {
            JUnitOption.Results results = junit.results("shiftstand compare");
            ComparisonJUnit.suites(comparison).forEach(results::add);
            results.write(force);
        }
        if (report != null) {
            RunFolder folder = RunFolder.named(report, force);
            folder.write(RESULT, stream -> text(stream, w -> ComparisonJson.write(comparison, w)));
            ReportOptions made = new ReportOptions(Clock.systemUTC().instant(), Version.number());
            folder.write(PAGE, stream -> text(stream, w -> ComparisonReport.write(comparison, made, w)));
            pdf.write(folder, PAGE);
        }
        if (json) {
            ComparisonJson.write(comparison, out);
        } else {
            ComparisonText.print(comparison, out);
            if (report != null) {
                out.println();
                out.println("Report: " + report.resolve(PAGE));
            }
        }
        out.flush();
    }

    private interface Content {
        void writeTo(Writer out) throws IOException;
    }

    private static void text(java.io.OutputStream stream, Content content) throws IOException {
        Writer out = new OutputStreamWriter(stream, StandardCharsets.UTF_8);
        content.writeTo(out);
        out.flush();
    }

    private static int exit(Change change) {
        return switch (change) {
            case EQUIVALENT -> ExitCode.DONE;
            case DIFFERENT -> ExitCode.FAIL;
            case NOT_DECIDED, NO_MARGIN -> ExitCode.NO_VERDICT;
        };
    }
}
