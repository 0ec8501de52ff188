package org.shiftstand.report;

import org.shiftstand.learn.OvertravelPattern;
import org.shiftstand.quantity.Unit;

/**
 * The overtravel of a row as a reader sees it.
 *
 * @param achieved with its interval, {@code none} or {@code gap}
 * @param sd of single shifts
 * @param seen from least to greatest
 * @param programmed with its interval, {@code none}, {@code not known}, {@code irregular} or {@code gap}
 * @param said what must be known of it, a clause
 */
record OvertravelWords(String achieved, String sd, String seen, String programmed, String said) {
    static OvertravelWords of(OvertravelPattern pattern, boolean biasKnown) {
        return pattern.match(new OvertravelPattern.Cases<>() {
            @Override
            public OvertravelWords programmed(OvertravelPattern.Programmed row) {
                return with(
                        row.achieved(),
                        biasKnown
                                ? LearnedWords.plusMinus(row.programmedDeg(), row.programmedHalfWidthDeg(), Unit.DEG)
                                : "not known",
                        all(row.achieved().n()) + "; up to " + LearnedWords.percent(row.largestUnseenRate())
                                + " without it unseen");
            }

            @Override
            public OvertravelWords none(OvertravelPattern.None row) {
                return new OvertravelWords(
                        "none",
                        "",
                        "",
                        "none",
                        (row.n() == 1 ? "none in the only shift" : "none in all of " + row.n()) + "; up to "
                                + LearnedWords.percent(row.largestUnseenRate()) + " with it unseen");
            }

            @Override
            public OvertravelWords irregular(OvertravelPattern.Irregular row) {
                return with(
                        row.achieved(),
                        "irregular",
                        "irregular: in " + row.with() + " of " + (row.with() + row.without()) + " shifts (rate "
                                + LearnedWords.percent(row.rateLow()) + " to "
                                + LearnedWords.percent(row.rateHigh()) + "); "
                                + row.follows()
                                        .map(what -> "it follows " + what)
                                        .orElse("what it follows is not decided"));
            }

            @Override
            public OvertravelWords gap(OvertravelPattern.Gap row) {
                return new OvertravelWords("gap", "", "", "gap", "gap: " + row.reason());
            }
        });
    }

    private static String all(int n) {
        return n == 1 ? "in the only shift" : "in all of " + n;
    }

    private static OvertravelWords with(
            org.shiftstand.learn.Estimated.Estimate achieved, String programmed, String said) {
        return new OvertravelWords(
                LearnedWords.plusMinus(achieved.mean(), achieved.halfWidth(), Unit.DEG),
                LearnedWords.sd(achieved),
                LearnedWords.number(achieved.least(), Unit.DEG) + " to "
                        + LearnedWords.number(achieved.greatest(), Unit.DEG),
                programmed,
                said);
    }
}
