package org.shiftstand.report;

import java.util.Arrays;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.Comparing;
import org.shiftstand.quantity.Unit;

/** Names of what is compared. */
final class ComparisonWords {
    private static final Pattern BREAKS = Pattern.compile("(?<=±) |(?<=\\d) (?=(?:%|"
            + Arrays.stream(Unit.values())
                    .map(Unit::symbol)
                    .filter(symbol -> !symbol.isEmpty())
                    .map(Pattern::quote)
                    .collect(Collectors.joining("|"))
            + ")(?!\\p{L}))");

    private ComparisonWords() {}

    /** {@code overtravel, sprocket 4 inboard}. */
    static String named(Compared row) {
        return Comparing.named(row);
    }

    /** A sentence as it stands on a page: no figure is parted from its unit or its ± at the end of a line. */
    static String unbroken(String sentence) {
        return BREAKS.matcher(sentence).replaceAll(Figures.NO_BREAK);
    }

    /** {@code mean overtravel}. */
    static String subject(Compared row) {
        String measure = Words.spaced(row.measure());
        return switch (row.of()) {
            case MEAN -> "mean " + measure;
            case SPREAD -> "spread of " + measure;
            case PROPORTION ->
                row.measure().equals("outcome") ? "share of outcomes" : "share of shifts with " + measure;
        };
    }
}
