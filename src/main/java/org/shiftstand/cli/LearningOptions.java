package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.learn.LearnOptions;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.shift.Measure;
import picocli.CommandLine.Option;

/** What {@code characterise} is told of the kind of unit and of bounds; every slip is told at once. */
final class LearningOptions {
    private static final Pattern NAME = Pattern.compile("[a-z][a-z0-9-]{0,62}[a-z0-9]");

    @Option(names = "--name", paramLabel = "NAME", description = "Name of the kind of unit. Default: drive.")
    private String name = "drive";

    @Option(
            names = "--unit",
            paramLabel = "ID",
            description =
                    "Id of the unit in a capture: once for all files, or once for each file in their order. Default: "
                            + "a record's own; captures are taken to be of one unit.")
    private List<String> units = new ArrayList<>();

    @Option(
            names = "--starts-at",
            paramLabel = "FILE=K",
            description =
                    "Number of the outermost sprocket that a file shows, where it shows a part of the cassette and "
                            + "does not overlap the others. May be repeated.")
    private List<String> startsAt = new ArrayList<>();

    @Option(
            names = "--coverage",
            paramLabel = "P",
            description = "Share of a good unit's shifts that a draft bound shall hold. Default: 99.9 %%.")
    private String coverage = "99.9 %";

    @Option(
            names = "--confidence",
            paramLabel = "P",
            description = "Confidence of bounds and of every interval. Default: 95 %%.")
    private String confidence = "95 %";

    @Option(
            names = "--margin",
            paramLabel = "MEASURE=AMOUNT",
            description =
                    "Room beyond the tolerance interval, such as overtravel=\"15 deg\". May be repeated. Default: our "
                            + "own choice, listed on the page.")
    private List<String> margins = new ArrayList<>();

    @Option(
            names = "--unseen",
            paramLabel = "P",
            description =
                    "A row is settled when at most this share of shifts could do otherwise unseen. Default: 10 %%.")
    private String unseen = "10 %";

    @Option(
            names = "--stopping-bias",
            paramLabel = "ANGLE",
            description = "How far short of its target the drive is known to stop. Default: estimated.")
    private @Nullable String stoppingBias;

    @Option(
            names = "--screw-lead",
            paramLabel = "LENGTH",
            description = "Cage travel a turn of the screw, such as \"2.4 mm\": gives millimetres.")
    private @Nullable String screwLead;

    /**
     * Everything, checked.
     *
     * @param options for learning
     * @param unitOf for each file the id said; empty where none was
     * @param firstOf for each file the number said
     */
    record Said(
            LearnOptions options,
            List<Optional<String>> unitOf,
            List<OptionalInt> firstOf,
            OptionalDouble screwLeadMm) {}

    Said said(List<Path> files) {
        List<Problem> problems = new ArrayList<>();
        LearnOptions usual = LearnOptions.of(name);
        if (!NAME.matcher(name).matches()) {
            problems.add(problem(
                    "--name " + name,
                    "is no name; expected 2 to 64 small letters, digits and '-', beginning with a letter, such as"
                            + " tarn-drive"));
        }
        double covered = share("--coverage", coverage, problems);
        double confident = share("--confidence", confidence, problems);
        double rate = share("--unseen", unseen, problems);
        Map<Measure, Double> room = new EnumMap<>(usual.margins());
        margins.forEach(text -> margin(text, room, problems));
        OptionalDouble bias = quantity("--stopping-bias", stoppingBias, Dimension.ANGLE, "6.5 deg", problems);
        OptionalDouble lead = quantity("--screw-lead", screwLead, Dimension.LENGTH, "2.4 mm", problems);
        if (lead.isPresent() && lead.getAsDouble() <= 0) {
            problems.add(problem("--screw-lead " + screwLead, "is not above 0; expected the likes of '2.4 mm'"));
        }
        List<Optional<String>> unitOf = unitOf(files, problems);
        List<OptionalInt> firstOf = firstOf(files, problems);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return new Said(new LearnOptions(name, covered, confident, room, rate, bias), unitOf, firstOf, lead);
    }

    private List<Optional<String>> unitOf(List<Path> files, List<Problem> problems) {
        for (String unit : units) {
            BadInput.gathered(problems, () -> UnitId.check(unit));
        }
        if (units.size() > 1 && units.size() != files.size()) {
            problems.add(problem(
                    "--unit",
                    "is given " + units.size() + " times for " + files.size()
                            + " files; expected once, or once for each file in their order"));
            return List.of();
        }
        List<Optional<String>> found = new ArrayList<>();
        for (int i = 0; i < files.size(); i++) {
            found.add(units.isEmpty() ? Optional.empty() : Optional.of(units.get(units.size() == 1 ? 0 : i)));
        }
        return found;
    }

    private List<OptionalInt> firstOf(List<Path> files, List<Problem> problems) {
        Map<String, Integer> said = new LinkedHashMap<>();
        for (String text : startsAt) {
            int at = text.lastIndexOf('=');
            String number = text.substring(at + 1).strip();
            if (at < 1 || !number.matches("[0-9]{1,2}") || number.matches("0+")) {
                problems.add(problem(
                        "--starts-at " + text,
                        "is no FILE=K; expected a file and a sprocket from 1, such as part.csv=4"));
            } else if (files.stream().noneMatch(file -> names(file, text.substring(0, at)))) {
                problems.add(problem(
                        "--starts-at " + text,
                        "names no file of this command; expected one of "
                                + files.stream().map(Path::toString).collect(Collectors.joining(", "))));
            } else {
                said.put(text.substring(0, at), Integer.parseInt(number));
            }
        }
        return files.stream()
                .map(file -> said.entrySet().stream()
                        .filter(e -> names(file, e.getKey()))
                        .mapToInt(Map.Entry::getValue)
                        .findFirst())
                .toList();
    }

    private static boolean names(Path file, String typed) {
        Path name = file.getFileName();
        return file.toString().equals(typed) || (name != null && name.toString().equals(typed));
    }

    private static void margin(String text, Map<Measure, Double> room, List<Problem> problems) {
        int at = text.indexOf('=');
        Optional<Measure> measure = at < 1
                ? Optional.empty()
                : Arrays.stream(Measure.values())
                        .filter(m -> m.judged()
                                && m.key().equals(text.substring(0, at).strip()))
                        .findFirst();
        if (measure.isEmpty()) {
            problems.add(problem(
                    "--margin " + text,
                    "is no MEASURE=AMOUNT; expected one of "
                            + room.keySet().stream().map(Measure::key).collect(Collectors.joining(", "))
                            + " with an amount, such as overtravel=\"15 deg\""));
            return;
        }
        String symbol = measure.get().unit().symbol();
        OptionalDouble amount = quantity(
                "--margin " + measure.get().key(),
                text.substring(at + 1),
                measure.get().unit().dimension(),
                "10 " + symbol,
                problems);
        if (amount.isPresent() && amount.getAsDouble() < 0) {
            problems.add(problem("--margin " + text, "is below 0; expected room to add, 0 or more"));
        } else if (amount.isPresent()) {
            room.put(measure.get(), amount.getAsDouble());
        }
    }

    private static double share(String option, String typed, List<Problem> problems) {
        OptionalDouble share = quantity(option, typed, Dimension.RATIO, "95 %", problems);
        if (share.isPresent() && !(share.getAsDouble() > 0 && share.getAsDouble() < 1)) {
            problems.add(
                    problem(option + " " + typed, "is no share; expected above 0 % and below 100 %, such as 95 %"));
            return 0.5;
        }
        return share.orElse(0.5);
    }

    private static OptionalDouble quantity(
            String option, @Nullable String typed, Dimension dimension, String likes, List<Problem> problems) {
        if (typed == null) {
            return OptionalDouble.empty();
        }
        try {
            Quantity q = Quantity.parse(typed);
            if (q.unit().dimension() != dimension) {
                problems.add(
                        problem(option + " " + typed, "has the wrong unit; expected the likes of '" + likes + "'"));
                return OptionalDouble.empty();
            }
            return OptionalDouble.of(q.base());
        } catch (NotAQuantity e) {
            problems.add(problem(option, String.valueOf(e.getMessage())));
            return OptionalDouble.empty();
        }
    }

    private static Problem problem(String where, String text) {
        return new Problem(where, 0, 0, text);
    }
}
