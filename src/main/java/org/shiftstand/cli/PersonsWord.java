package org.shiftstand.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.util.function.BooleanSupplier;
import org.shiftstand.rig.GoAhead;

/** The word of a person at the terminal that a unit may move again; nobody's where there is no terminal. */
final class PersonsWord implements GoAhead {
    private static final String WORD = "go";
    private static final long POLL_MS = 50;

    private final PrintWriter err;
    private final InputStream in;
    private final boolean terminal;
    private final BooleanSupplier stop;

    PersonsWord(PrintWriter err, InputStream in, boolean terminal, BooleanSupplier stop) {
        this.err = err;
        this.in = in;
        this.terminal = terminal;
        this.stop = stop;
    }

    @Override
    public boolean given(String what) {
        if (!terminal) {
            return false;
        }
        err.println();
        err.println(what);
        err.print("Hands off the drive? Type '" + WORD + "' and Enter to go on; anything else ends the run: ");
        err.flush();
        try {
            return line().strip().equals(WORD);
        } catch (IOException e) {
            return false; // no word is no
        }
    }

    /** The next line; empty when the input ends or a stop is wanted before it is there. */
    private String line() throws IOException {
        var typed = new StringBuilder();
        while (!stop.getAsBoolean()) {
            if (in.available() == 0) {
                pause();
                continue;
            }
            int c = in.read();
            if (c < 0 || c == '\n') {
                return typed.toString();
            }
            typed.append((char) c);
        }
        return "";
    }

    private static void pause() {
        try {
            Thread.sleep(POLL_MS); // a person's pace; the supply is off
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
