package org.shiftstand.cli;

import java.io.PrintWriter;

/** One line on a terminal that says how far a long job is; silent in a pipe. */
final class Progress {
    private final PrintWriter err;
    private final boolean terminal;
    private int shown;

    Progress(PrintWriter err) {
        this.err = err;
        // the launcher looks at standard error itself: Java cannot tell it apart from the other streams
        this.terminal = Boolean.getBoolean("shiftstand.terminal");
    }

    void show(String text) {
        if (terminal) {
            String padded = text + " ".repeat(Math.max(0, shown - text.length()));
            err.print("\r" + padded);
            err.flush();
            shown = text.length();
        }
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
