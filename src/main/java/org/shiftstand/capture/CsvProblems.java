package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/** Collects what is wrong with a capture, at most ten, then gives up. */
final class CsvProblems {
    private static final int MOST = 10;

    private final String file;
    private final List<Problem> found = new ArrayList<>();

    CsvProblems(String file) {
        this.file = file;
    }

    /** Adds one and goes on. */
    void add(long line, int column, String text) {
        found.add(problem(line, column, text));
        if (found.size() == MOST) {
            found.add(
                    problem(
                            0,
                            0,
                            "and perhaps more: reading stopped after " + MOST
                                    + " problems. Mend these first; are they all alike, the logger wrote another format: shiftstand import --dry-run"));
            throw new BadInput(found);
        }
    }

    /** Adds one after which nothing can be read. */
    BadInput fatal(long line, int column, String text) {
        found.add(problem(line, column, text));
        return new BadInput(found);
    }

    void throwIfAny() {
        if (!found.isEmpty()) {
            throw new BadInput(found);
        }
    }

    private Problem problem(long line, int column, String text) {
        return new Problem(file, (int) Math.min(line, Integer.MAX_VALUE), column, text);
    }
}
