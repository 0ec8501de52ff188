package org.shiftstand.cli;

import java.io.PrintWriter;
import picocli.CommandLine.Option;

/** Whether a command that may take long says how far it is; the same for all of them. */
final class ProgressOption {
    @Option(names = "--no-progress", description = "Show no progress line, not even on a terminal.")
    private boolean off;

    private final boolean ownLine;

    private ProgressOption(boolean ownLine) {
        this.ownLine = ownLine;
    }

    /** Of a command that says itself how far it is, on {@link #line}. */
    static ProgressOption ownLine() {
        return new ProgressOption(true);
    }

    /** Of a command that cannot tell how far it is: the program shows what it does and for how long, see {@link Screen}. */
    static ProgressOption elapsedTime() {
        return new ProgressOption(false);
    }

    /** The line that the command itself writes to; one that is never shown where none is wanted. */
    Progress line(PrintWriter err) {
        return off ? Progress.silent(err) : new Progress(err);
    }

    /** Whether the program is to show the time that goes by. */
    boolean wantsElapsedTime() {
        return !off && !ownLine;
    }
}
