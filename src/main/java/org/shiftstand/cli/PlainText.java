package org.shiftstand.cli;

import java.util.regex.Pattern;

/** Text out of somebody else's file, made fit for a terminal. */
final class PlainText {
    /** Control characters of both sets, format and direction characters, halves of characters, line and paragraph ends. */
    private static final Pattern UNFIT = Pattern.compile("[\\p{Cc}\\p{Cf}\\p{Cs}\\p{Zl}\\p{Zp}]");

    /** The same, but for what sets out a text of several lines. */
    private static final Pattern UNFIT_IN_LINES = Pattern.compile("(?![\\n\\t])" + UNFIT.pattern());

    private PlainText() {}

    /** On one line, which moves no cursor and turns no direction: {@code ?} in place of every character that could. */
    static String of(String text) {
        return UNFIT.matcher(text).replaceAll("?");
    }

    /** The same of a text of several lines: line feeds and tabs stay. */
    static String ofLines(String text) {
        return UNFIT_IN_LINES.matcher(text).replaceAll("?");
    }
}
