package org.shiftstand.report;

import org.shiftstand.learn.compare.Change;
import org.shiftstand.spec.Verdict;

/** Shapes and colours of a comparison's verdicts: those of a judgement, which readers know. */
final class ChangeMark {
    private ChangeMark() {}

    static Verdict like(Change change) {
        return switch (change) {
            case EQUIVALENT -> Verdict.PASS;
            case DIFFERENT -> Verdict.FAIL;
            case NOT_DECIDED, NO_MARGIN -> Verdict.NO_VERDICT;
        };
    }

    static String symbol(Change change, int size) {
        return change == Change.NO_MARGIN ? "" : Mark.symbol(like(change), size);
    }

    /** Class name of the style sheet. */
    static String tone(Change change) {
        return switch (change) {
            case EQUIVALENT -> "pass";
            case DIFFERENT -> "fail";
            case NOT_DECIDED -> "no-verdict";
            case NO_MARGIN -> "quiet";
        };
    }

    static String colour(Change change) {
        return change == Change.NO_MARGIN ? Palette.QUIET : Mark.colour(like(change));
    }
}
