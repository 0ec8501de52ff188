package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import org.shiftstand.capture.Dialect.DecimalMark;
import org.shiftstand.capture.Dialect.Delimiter;
import org.shiftstand.capture.Dialect.Grouping;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * What the user says of a capture, before anything is recognised; it goes before what its lines suggest.
 *
 * @param columns capture column to header
 * @param minus capture column to the header that is taken off, as of a differential pair
 * @param scales capture column to factor
 * @param rateHz samples a second, where samples are counted
 * @param periodsPerTurn of the magnet
 */
public record Answers(
        Map<String, String> columns,
        Map<String, String> minus,
        Map<String, Double> scales,
        OptionalDouble rateHz,
        Optional<Delimiter> delimiter,
        Optional<DecimalMark> decimal,
        Optional<Grouping> grouping,
        OptionalInt periodsPerTurn) {
    public Answers {
        columns = Map.copyOf(columns);
        minus = Map.copyOf(minus);
        scales = Map.copyOf(scales);
    }

    public static Answers none() {
        return new Answers(
                Map.of(),
                Map.of(),
                Map.of(),
                OptionalDouble.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                OptionalInt.empty());
    }

    /**
     * As typed on a command line; an empty text was not given.
     *
     * @param columns each {@code NAME=HEADER}
     * @param minus each {@code NAME=HEADER}
     * @param scales each {@code NAME=FACTOR}
     * @throws BadInput naming every one that cannot be used
     */
    public static Answers parse(
            List<String> columns,
            List<String> minus,
            List<String> scales,
            OptionalDouble rateHz,
            String delimiter,
            String decimal,
            String grouping,
            OptionalInt periodsPerTurn) {
        List<Problem> problems = new ArrayList<>();
        CsvOptions usual = BadInput.gathered(problems, () -> CsvOptions.parse(columns, scales))
                .orElseGet(CsvOptions::usual);
        Map<String, String> less = BadInput.gathered(problems, () -> CsvOptions.parse("--minus", minus))
                .orElseGet(LinkedHashMap::new);
        if (rateHz.isPresent() && !(rateHz.getAsDouble() > 0 && rateHz.getAsDouble() < 1e9)) {
            problems.add(new Problem(
                    "--rate", 0, 0, rateHz.getAsDouble() + " is no sample rate; expected hertz above 0, such as 512"));
        }
        if (periodsPerTurn.isPresent() && (periodsPerTurn.getAsInt() < 1 || periodsPerTurn.getAsInt() > 64)) {
            problems.add(new Problem(
                    "--periods-per-turn",
                    0,
                    0,
                    periodsPerTurn.getAsInt() + " is no number of periods; expected 1 to 64, such as 2"));
        }
        Answers answers = new Answers(
                usual.columns(),
                less,
                usual.scales(),
                rateHz,
                word("--delimiter", delimiter, Delimiter.values(), Delimiter::word, problems),
                word("--decimal", decimal, DecimalMark.values(), DecimalMark::word, problems),
                word("--grouping", grouping, Grouping.values(), Grouping::word, problems),
                periodsPerTurn);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return answers;
    }

    private static <T> Optional<T> word(
            String option, String typed, T[] all, Function<T, String> word, List<Problem> problems) {
        if (typed.isEmpty()) {
            return Optional.empty();
        }
        Optional<T> found =
                Arrays.stream(all).filter(t -> word.apply(t).equals(typed)).findFirst();
        if (found.isEmpty()) {
            List<String> words = Arrays.stream(all).map(word).toList();
            problems.add(new Problem(
                    option,
                    0,
                    0,
                    "cannot read '" + CsvHeader.shown(typed) + "'; expected one of " + String.join(", ", words) + "."
                            + Nearest.hint(typed, words)));
        }
        return found;
    }
}
