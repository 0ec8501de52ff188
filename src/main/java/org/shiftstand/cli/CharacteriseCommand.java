package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.judge.JudgeInput;
import org.shiftstand.judge.JudgeOptions;
import org.shiftstand.judge.Measuring;
import org.shiftstand.judge.Named;
import org.shiftstand.learn.FixedPoint;
import org.shiftstand.learn.Learned;
import org.shiftstand.learn.LearnedSource;
import org.shiftstand.learn.Learning;
import org.shiftstand.learn.LearningInput;
import org.shiftstand.learn.Traces;
import org.shiftstand.report.LearnedText;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Learns what a good unit does. */
@Command(
        name = "characterise",
        sortOptions = false,
        description = {
            "Learns what a good unit does, from captures or run records of one kind of unit.",
            "",
            "Positions, overtravel of every shift in both directions, dwell, travel, ringing and current, each with its "
                    + "uncertainty; what is not decided, and how many more shifts would decide it. A shift that was not "
                    + "seen is a gap in the table, never a guess. Every third cycle is held back and never learned from: "
                    + "it proves the draft spec."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand characterise capture.csv --name tarn-drive --screw-lead \"2.4 mm\" --out learned",
            "  shiftstand characterise a.csv b.csv c.csv --unit TD-1 --unit TD-2 --unit TD-3 --out learned"
        })
final class CharacteriseCommand implements Callable<Integer> {
    @Spec
    private CommandSpec command;

    @Parameters(
            arity = "1..*",
            paramLabel = "FILE",
            description = "Captures (.csv, .csv.gz) or run records (.run) of one kind of unit.")
    private List<Path> files = new ArrayList<>();

    @Mixin
    private LearningOptions learning = new LearningOptions();

    @Mixin
    private MeasureOptions options = new MeasureOptions();

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Write profile, draft spec, C header, numbers (JSON) and a page (HTML) to this folder, as "
                    + "far as the captures give them.")
    private @Nullable Path out;

    @Option(
            names = "--fixed",
            paramLabel = "UNIT",
            description =
                    "Angle unit of the C header: centideg, or counts:N with N counts per turn of the output shaft. "
                            + "Default: centideg.")
    private String fixed = "centideg";

    @Mixin
    private PdfOption pdf = new PdfOption();

    @Option(names = "--force", description = "Overwrite files of those names in the folder of --out.")
    private boolean force;

    @Option(names = "--json", description = "Print everything as JSON (specs/schema/learned.schema.json).")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        LearningOptions.Said said = learning.said(files);
        FixedPoint unit = fixedPoint();
        JudgeOptions measuring = options.judgeOptions();
        LearnedFiles written = new LearnedFiles(said.options().name());
        RunFolder folder = out == null ? null : written.folder(out, force);
        pdf.ready(folder, LearnedFiles.PAGE);
        PrintWriter to = command.commandLine().getOut();
        List<JudgeInput> open = new ArrayList<>();
        try {
            List<LearningInput> inputs = inputs(said, measuring, open);
            Learned learned = Learning.learn(inputs, said.options(), said.screwLeadMm());
            Traces.Drawn drawn = Traces.of(inputs, learned);
            Learned whole = learned.with(drawn.signatures());
            DraftOfLearned draft = DraftOfLearned.of(whole, inputs, sources(open), measuring, written.profile());
            if (json) {
                LearnedFiles.json(whole, draft, unit, System.out);
                System.out.flush();
            } else {
                LearnedText.of(whole).forEach(to::println);
                to.println();
                draft.words().forEach(to::println);
            }
            if (folder != null) {
                List<String> files = written.write(folder, whole, drawn, draft, unit);
                pdf.write(folder, LearnedFiles.PAGE);
                files.forEach(json ? command.commandLine().getErr()::println : to::println);
            }
        } finally {
            open.forEach(JudgeInput::close);
        }
        return ExitCode.DONE;
    }

    private FixedPoint fixedPoint() {
        try {
            return FixedPoint.parse(fixed);
        } catch (IllegalArgumentException e) {
            throw new BadInput(new Problem("--fixed", 0, 0, String.valueOf(e.getMessage())));
        }
    }

    private static List<SampleSource> sources(List<JudgeInput> open) {
        return open.stream().map(JudgeInput::source).toList();
    }

    /** Measures every file; the problems of all of them at once. */
    private List<LearningInput> inputs(LearningOptions.Said said, JudgeOptions measuring, List<JudgeInput> open) {
        List<Problem> problems = new ArrayList<>();
        List<LearningInput> inputs = new ArrayList<>();
        for (int i = 0; i < files.size(); i++) {
            Path file = files.get(i);
            Optional<String> unit = said.unitOf().get(i);
            OptionalInt first = said.firstOf().get(i);
            BadInput.gathered(problems, () -> {
                        JudgeInput input = JudgeInput.open(file, options.csv());
                        open.add(input);
                        return input(file, input, unit, first, measuring);
                    })
                    .ifPresent(inputs::add);
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return inputs;
    }

    private LearningInput input(
            Path file, JudgeInput input, Optional<String> unit, OptionalInt first, JudgeOptions measuring) {
        Named named = new Named(Optional.empty(), options.profile(), Optional.empty()).withLimits(options.limits());
        JudgeInput.MeasureCase by = input.measuring(named, measuring);
        Path name = file.getFileName();
        return new LearningInput(
                name == null ? file.toString() : name.toString(),
                unit.or(input::unit).orElse(LearnedSource.UNNAMED),
                input.identity(),
                Measuring.measure(input.source(), by.profile(), by.options()),
                first);
    }
}
