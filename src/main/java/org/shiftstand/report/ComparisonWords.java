package org.shiftstand.report;

import org.shiftstand.learn.compare.Compared;
import org.shiftstand.learn.compare.Comparing;

/** Names of what is compared. */
final class ComparisonWords {
    private ComparisonWords() {}

    /** {@code overtravel, sprocket 4 inboard}. */
    static String named(Compared row) {
        return Comparing.named(row);
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
