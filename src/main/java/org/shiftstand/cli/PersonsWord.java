package org.shiftstand.cli;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintWriter;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import org.shiftstand.rig.GoAhead;

/** The word of a person at the terminal; nobody's where there is no terminal, or once a stop is wanted. */
final class PersonsWord implements GoAhead {
    private static final String WORD = "go";
    private static final long POLL_MS = 50;

    private final PrintWriter err;
    private final InputStream in;
    private final boolean terminal;
    private final BooleanSupplier stop;

    /** A person may be asked where this is so. Java cannot tell what standard input is; the launcher looks. */
    static boolean somebodyThere() {
        return Boolean.getBoolean("shiftstand.terminal") && Boolean.getBoolean("shiftstand.keyboard");
    }

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
        forget();
        err.println();
        err.println(what);
        return answer("Hands off the drive? Type '" + WORD + "' and Enter to go on; anything else ends the run: ")
                .equals(Optional.of(WORD));
    }

    /** What was typed before the question is no answer to it. */
    private void forget() {
        try {
            while (in.available() > 0 && in.read() >= 0) {
                Thread.onSpinWait();
            }
        } catch (IOException e) {
            // the answer will not be had either
            Thread.onSpinWait();
        }
    }

    /** What is typed after a question; empty where nobody is there. */
    Optional<String> answer(String question) {
        if (!terminal) {
            return Optional.empty();
        }
        err.print(question);
        err.flush();
        try {
            return Optional.of(line().strip());
        } catch (IOException e) {
            return Optional.empty(); // no word is no
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
