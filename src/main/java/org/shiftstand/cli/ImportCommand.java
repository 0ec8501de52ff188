package org.shiftstand.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.Answers;
import org.shiftstand.capture.CsvCapture;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.Dialect;
import org.shiftstand.capture.MappingFile;
import org.shiftstand.capture.MappingText;
import org.shiftstand.capture.PlainText;
import org.shiftstand.capture.Recognition;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Says what a logger's capture is, and makes a plain one of it. */
@Command(
        name = "import",
        sortOptions = false,
        description = {
            "Says what the capture of another logger is, and makes a plain one of it.",
            "",
            "Recognises delimiter, decimal comma, header words, units, epoch times, differential pairs and what "
                    + "loggers write above their rows; finds the Hall pair by its words or as the two columns that go "
                    + "round an ellipse. Says for each column what it is taken for and why. What the file does not "
                    + "tell is asked for, with the options that tell it (exit 2), and never guessed.",
            "",
            "--dry-run writes NAME.mapping.yaml, which measure, judge, characterise and compare take with "
                    + "--mapping for every capture of that logger."
        },
        footer = {
            "",
            "Examples:",
            "  shiftstand import --dry-run logger.csv",
            "  shiftstand import scope.txt --rate 2000 --out plain.csv"
        })
final class ImportCommand implements Callable<Integer> {
    @Spec
    private CommandSpec spec;

    @Parameters(paramLabel = "FILE", description = "Capture of a logger, plain text or compressed (.gz).")
    private Path file;

    @Option(names = "--dry-run", description = "Say what it is and write the mapping file, nothing else.")
    private boolean dryRun;

    @Option(names = "--out", paramLabel = "FILE", description = "Write the samples as a plain capture to this file.")
    private @Nullable Path out;

    @Option(
            names = "--mapping",
            paramLabel = "FILE",
            description = "Read it by this mapping file; nothing is recognised.")
    private @Nullable Path mapping;

    @Option(
            names = "--mapping-out",
            paramLabel = "FILE",
            description = "Where --dry-run writes the mapping. Default: NAME.mapping.yaml in this folder.")
    private @Nullable Path mappingOut;

    @Option(
            names = "--column",
            paramLabel = "NAME=HEADER",
            description =
                    "The column that holds a quantity, such as hall_sin=CH1; without a header row column-1 and so "
                            + "on. May be repeated.")
    private List<String> columns = new ArrayList<>();

    @Option(
            names = "--minus",
            paramLabel = "NAME=HEADER",
            description = "The column to subtract, as of a differential pair, such as hall_sin=CH2. May be repeated.")
    private List<String> minus = new ArrayList<>();

    @Option(
            names = "--scale",
            paramLabel = "NAME=FACTOR",
            description = "Factor for a column, such as current_a=0.001 for one in mA. May be repeated.")
    private List<String> scales = new ArrayList<>();

    @Option(names = "--rate", paramLabel = "HZ", description = "Sample rate, where samples are counted, not timed.")
    private @Nullable Double rate;

    @Option(names = "--delimiter", paramLabel = "MARK", description = "What separates fields: comma, semicolon or tab.")
    private String delimiter = "";

    @Option(names = "--decimal", paramLabel = "MARK", description = "The decimal mark: point or comma.")
    private String decimal = "";

    @Option(
            names = "--grouping",
            paramLabel = "MARK",
            description = "What groups large numbers: none, point, comma, apostrophe or space.")
    private String grouping = "";

    @Option(
            names = "--periods-per-turn",
            paramLabel = "N",
            description = "How often the magnet's field goes round in one turn of the shaft; into the mapping.")
    private @Nullable Integer periodsPerTurn;

    @Option(names = "--force", description = "Overwrite the files that are written.")
    private boolean force;

    @Option(names = "--json", description = "Say what was recognised as JSON.")
    private boolean json;

    @Mixin
    private ProgressOption progress = ProgressOption.elapsedTime();

    @Override
    public Integer call() throws IOException {
        refuseMisuse();
        if (mapping != null) {
            Dialect dialect = MappingFile.read(mapping);
            try (SampleSource source = CsvCapture.open(file, CsvOptions.of(dialect))) {
                return write(dialect, source, Optional.empty());
            }
        }
        Recognition recognition = Recognition.of(file, MappingName.of(file), answers());
        if (!recognition.questions().isEmpty()) {
            return ask(recognition);
        }
        Dialect dialect = recognition.dialect().orElseThrow();
        try (SampleSource source = CsvCapture.open(file, CsvOptions.of(dialect))) {
            return write(dialect, source, Optional.of(recognition));
        }
    }

    private void refuseMisuse() {
        List<Problem> problems = new ArrayList<>();
        if (dryRun == (out != null)) {
            problems.add(
                    new Problem(
                            "import",
                            0,
                            0,
                            dryRun
                                    ? "--dry-run and --out are given together; expected one of them"
                                    : "expected --dry-run, to see what the file is, or --out FILE, to write it as a plain capture"));
        }
        boolean answered = !columns.isEmpty()
                || !minus.isEmpty()
                || !scales.isEmpty()
                || rate != null
                || !(delimiter + decimal + grouping).isEmpty();
        if (mapping != null && (answered || periodsPerTurn != null)) {
            problems.add(new Problem(
                    "--mapping",
                    0,
                    0,
                    "is given together with options that it stands for; expected one of them. Change " + mapping
                            + ", or leave it out"));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    private Answers answers() {
        return Answers.parse(
                columns,
                minus,
                scales,
                rate == null ? OptionalDouble.empty() : OptionalDouble.of(rate),
                delimiter,
                decimal,
                grouping,
                periodsPerTurn == null ? OptionalInt.empty() : OptionalInt.of(periodsPerTurn));
    }

    private int ask(Recognition recognition) {
        if (json) {
            ImportJson.write(file, recognition, Optional.empty(), Optional.empty(), out());
        } else {
            RecognitionText.of(recognition).forEach(out()::println);
        }
        out().flush();
        RecognitionText.questions(file, recognition).forEach(spec.commandLine().getErr()::println);
        return ExitCode.BAD_INPUT;
    }

    private PrintWriter out() {
        return spec.commandLine().getOut();
    }

    private int write(Dialect dialect, SampleSource source, Optional<Recognition> recognition) {
        ImportedSamples samples = ImportedSamples.of(source);
        Optional<Path> written = Optional.empty();
        if (out != null) {
            Path plain = out;
            Output.writeWhole(plain, force, to -> PlainText.write(source, to));
            written = Optional.of(plain);
        } else if (recognition.filter(r -> !r.plain()).isPresent()) {
            written = Optional.of(writeMapping(dialect, recognition.get()));
        }
        if (json) {
            ImportJson.write(
                    file,
                    recognition.orElseGet(() -> RecognitionText.byMapping(dialect, samples.count())),
                    Optional.of(samples),
                    written,
                    out());
            return ExitCode.DONE;
        }
        PrintWriter to = out();
        recognition.ifPresentOrElse(
                r -> RecognitionText.of(r).forEach(to::println),
                () -> RecognitionText.of(RecognitionText.byMapping(dialect, samples.count()))
                        .forEach(to::println));
        to.println();
        samples.lines().forEach(to::println);
        RecognitionText.next(file, recognition, dialect, written, dryRun).forEach(to::println);
        return ExitCode.DONE;
    }

    /** Writes the mapping; one that is there already and says the same stays. */
    private Path writeMapping(Dialect dialect, Recognition recognition) {
        Path target = mappingOut == null ? Path.of(dialect.name() + MappingName.ENDING) : mappingOut;
        byte[] text = MappingText.of(dialect, RecognitionText.evidence(file, recognition))
                .getBytes(StandardCharsets.UTF_8);
        if (!isThere(target, text)) {
            Output.writeWhole(target, force, to -> to.write(text));
        }
        return target;
    }

    private static boolean isThere(Path target, byte[] text) {
        try {
            return Files.isRegularFile(target)
                    && Files.size(target) == text.length
                    && java.util.Arrays.equals(Files.readAllBytes(target), text);
        } catch (IOException e) {
            return false; // then writing it says what is wrong
        }
    }
}
