package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.run.AsJudged;
import org.shiftstand.capture.CsvOptions;
import org.shiftstand.capture.Dialect;
import org.shiftstand.capture.MappingFile;
import org.shiftstand.cli.manual.PackedNames;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.JudgeOptions;
import picocli.CommandLine.Option;

/** How a file is read and measured: the options that {@code measure} and {@code judge} share. */
final class MeasureOptions {
    @Option(
            names = "--profile",
            paramLabel = "P",
            completionCandidates = PackedNames.Profiles.class,
            description = "Profile of this kind of unit, a file or a bundled name; goes before the spec's.")
    private @Nullable String profile;

    @Option(
            names = "--limits",
            paramLabel = "FILE",
            description = "The unit's own mechanical limits (UNIT.limits.yaml); they go before the profile's.")
    private @Nullable String limits;

    @Option(
            names = "--sense",
            paramLabel = "forward|reversed",
            description = "Which way the Hall pair turns. Needed where neither requests nor a profile tell.")
    private @Nullable String sense;

    @Option(
            names = "--first-sprocket",
            paramLabel = "K",
            description = "Number of the outermost sprocket in the file. Default: 1, or as the profile fits.")
    private @Nullable Integer firstSprocket;

    @Option(names = "--band", paramLabel = "DEG", description = "Settle band in degrees. Default: the spec's, else 20.")
    private @Nullable Double band;

    @Option(
            names = "--column",
            paramLabel = "NAME=HEADER",
            description = "The column of a capture that holds a quantity, such as hall_sin=CH1. May be repeated.")
    private List<String> columns = new ArrayList<>();

    @Option(
            names = "--scale",
            paramLabel = "NAME=FACTOR",
            description = "Factor for a column, such as current_a=0.001 for one in mA. May be repeated.")
    private List<String> scales = new ArrayList<>();

    @Option(
            names = "--mapping",
            paramLabel = "FILE",
            description =
                    "How the captures of this logger are read, as import --dry-run writes it. Instead of --column "
                            + "and --scale.")
    private @Nullable Path mapping;

    @Option(
            names = "--periods-per-turn",
            paramLabel = "N",
            description =
                    "How often the magnet's field goes round in one turn of the shaft. Default: the mapping's, the "
                            + "rig's, else 1.")
    private @Nullable Integer periodsPerTurn;

    Optional<String> profile() {
        return Optional.ofNullable(profile);
    }

    Optional<String> limits() {
        return Optional.ofNullable(limits);
    }

    /** How a capture is read; throws with everything that is wrong in a mapping file. */
    CsvOptions csv() {
        CsvOptions typed = CsvOptions.parse(columns, scales);
        if (mapping == null) {
            return typed;
        }
        if (!columns.isEmpty() || !scales.isEmpty()) {
            throw new BadInput(new Problem(
                    "--mapping",
                    0,
                    0,
                    "is given together with --column or --scale; expected one of them. Write columns and scales into "
                            + mapping));
        }
        return CsvOptions.of(MappingFile.read(mapping));
    }

    /** What was typed, in a form that can be kept; call {@link #judgeOptions} first, which says what is wrong with it. */
    AsJudged asJudged(Optional<String> unit) {
        return new AsJudged(
                unit,
                Optional.ofNullable(sense),
                firstSprocket == null ? OptionalInt.empty() : OptionalInt.of(firstSprocket),
                band == null ? OptionalDouble.empty() : OptionalDouble.of(band),
                periods(new ArrayList<>()),
                columns,
                scales,
                Optional.ofNullable(mapping).map(file -> TextFile.read(file.toString(), file)));
    }

    private OptionalInt periods(List<Problem> problems) {
        if (periodsPerTurn != null) {
            int periods = periodsPerTurn;
            if (periods < 1 || periods > 64) {
                problems.add(new Problem(
                        "--periods-per-turn " + periods, 0, 0, "is no number of periods; expected 1 to 64, such as 2"));
                return OptionalInt.empty();
            }
            return OptionalInt.of(periods);
        }
        return BadInput.gathered(problems, this::csv)
                .flatMap(CsvOptions::dialect)
                .map(Dialect::periodsPerTurn)
                .orElse(OptionalInt.empty());
    }

    /** The options as a judge takes them; every one that is wrong is told at once. */
    JudgeOptions judgeOptions() {
        List<Problem> problems = new ArrayList<>();
        JudgeOptions options = JudgeOptions.defaults();
        Optional<String> word = Optional.ofNullable(sense);
        int before = problems.size();
        word.ifPresent(said -> OneOf.check("--sense", said, List.of("forward", "reversed"), problems));
        if (word.isPresent() && problems.size() == before) {
            options = options.withSense(word.get());
        }
        OptionalInt first = firstSprocket == null ? OptionalInt.empty() : OptionalInt.of(firstSprocket);
        if (first.isPresent() && first.getAsInt() < 1) {
            problems.add(new Problem(
                    "--first-sprocket " + first.getAsInt(), 0, 0, "is no sprocket; expected a whole number from 1"));
        } else if (first.isPresent()) {
            options = options.withFirstSprocket(first.getAsInt());
        }
        OptionalDouble degrees = band == null ? OptionalDouble.empty() : OptionalDouble.of(band);
        if (degrees.isPresent() && !(degrees.getAsDouble() > 0 && degrees.getAsDouble() <= 360)) {
            problems.add(new Problem(
                    "--band " + degrees.getAsDouble(),
                    0,
                    0,
                    "is no settle band; expected degrees above 0 and at most 360"));
        } else if (degrees.isPresent()) {
            options = options.withBandDeg(degrees.getAsDouble());
        }
        OptionalInt periods = periods(problems);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return periods.isPresent() ? options.withPeriodsPerTurn(periods.getAsInt()) : options;
    }
}
