package org.shiftstand.report;

/**
 * The colours of the report, each with one meaning. Every text colour has a contrast of at least 4.5 : 1 and every mark
 * at least 3 : 1 on {@link #PAPER} and {@link #WASH} (WCAG 2.2, 1.4.3 and 1.4.11); no meaning rests on colour alone.
 */
final class Palette {
    /** Text, frames, axes. */
    static final String INK = "#17212b";
    /** Second-rank text. */
    static final String QUIET = "#4a5763";
    /** Hairlines that only guide the eye. */
    static final String RULE = "#b9c4ce";
    /** Grid in drawings. */
    static final String GRID = "#e2e8ed";

    static final String PAPER = "#ffffff";
    /** Ground of table heads and cells of second rank. */
    static final String WASH = "#f2f5f8";
    /** What was measured. */
    static final String TRACE = "#1c4e80";
    /** Ground of the landing band. */
    static final String BAND = "#dbe7f1";
    /** From least to most of many shifts drawn as one bar. */
    static final String RANGE = "#6585a5";

    static final String PASS = "#00605a";
    static final String FAIL = "#a8201a";
    static final String OPEN = "#7a4b00";

    private Palette() {}
}
