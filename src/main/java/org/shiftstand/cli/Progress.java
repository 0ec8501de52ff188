package org.shiftstand.cli;

import java.io.PrintWriter;
import org.jspecify.annotations.Nullable;

/** One line on a terminal that says how far a long job is; silent in a pipe, unless the other end asked for it. */
final class Progress {
    /** Begins each line that a parent process shows in its own; no text of ours has it. */
    static final String TO_PARENT = "\u001e";

    private static final int USUAL_COLUMNS = 120;

    private final PrintWriter err;
    private final boolean terminal;
    private final boolean parent;
    private final int columns;
    private int shown;
    private String told = "";

    Progress(PrintWriter err) {
        this(err, onTerminal(), Boolean.getBoolean("shiftstand.progress-to-parent"));
    }

    private Progress(PrintWriter err, boolean terminal, boolean parent) {
        this.err = err;
        this.terminal = terminal;
        this.parent = parent;
        this.columns = Integer.getInteger("shiftstand.columns", USUAL_COLUMNS);
    }

    /** One that shows nothing. */
    static Progress silent(PrintWriter err) {
        return new Progress(err, false, false);
    }

    /** The launcher looks at standard error itself: Java cannot tell it apart from the other streams. */
    static boolean onTerminal() {
        return Boolean.getBoolean("shiftstand.terminal") && canGoBack(System.getenv("TERM"));
    }

    /** A terminal that cannot go back to the start of its line would get one line after another. */
    static boolean canGoBack(@Nullable String term) {
        return !"dumb".equals(term);
    }

    void show(String text) {
        if (parent) {
            if (!text.equals(told)) { // a night has many seconds
                err.println(TO_PARENT + text);
                told = text;
            }
        } else if (terminal) {
            String fitting = shortened(text, columns - 1); // a line that wraps cannot be taken back
            String padded = fitting + " ".repeat(Math.max(0, shown - fitting.length()));
            err.print("\r" + padded);
            err.flush();
            shown = fitting.length();
        }
    }

    static String shortened(String text, int most) {
        return most < 1 || text.length() <= most ? text : text.substring(0, most - 1) + "…";
    }

    /** Clears the line, so that what is printed next stands alone. */
    void clear() {
        if (terminal && shown > 0) {
            err.print("\r" + " ".repeat(shown) + "\r");
            err.flush();
            shown = 0;
        }
    }
}
