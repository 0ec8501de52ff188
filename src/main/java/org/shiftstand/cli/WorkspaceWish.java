package org.shiftstand.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * What a new workspace is for.
 *
 * @param name of the kind of unit
 * @param sprockets 3 to 16
 * @param port of the rig
 * @param rig name of the rig
 */
record WorkspaceWish(String name, int sprockets, String port, String rig) {
    static final String USUAL_NAME = "my-drive";
    static final int USUAL_SPROCKETS = 10;
    static final String USUAL_PORT = "/dev/ttyACM0";
    static final String USUAL_RIG = "bench-one";

    /** The spec's name is made of it, and names have 64 characters at most. */
    private static final Pattern NAME = Pattern.compile("[a-z][a-z0-9-]{0,46}[a-z0-9]");

    private static final Pattern PORT = Pattern.compile("[A-Za-z0-9/._:+@-]{1,200}");
    private static final int FEWEST = 3;
    private static final int MOST = 16;

    /** Whether this may be the name of a kind of unit. */
    static boolean isName(String typed) {
        return NAME.matcher(typed).matches();
    }

    static Optional<Problem> nameProblem(String option, String typed) {
        return isName(typed)
                ? Optional.empty()
                : Optional.of(problem(
                        option,
                        typed,
                        "is no name; expected 2 to 48 small letters, digits and '-', beginning with a letter, such as"
                                + " my-drive"));
    }

    static Optional<Problem> sprocketsProblem(String typed) {
        return typed.matches("[0-9]{1,2}") && Integer.parseInt(typed) >= FEWEST && Integer.parseInt(typed) <= MOST
                ? Optional.empty()
                : Optional.of(problem(
                        "--sprockets",
                        typed,
                        "is no number of sprockets; expected a whole number from " + FEWEST + " to " + MOST
                                + ", such as 10"));
    }

    static Optional<Problem> portProblem(String typed) {
        return PORT.matcher(typed).matches()
                ? Optional.empty()
                : Optional.of(problem(
                        "--port",
                        typed,
                        "is no serial port; expected its path, such as " + USUAL_PORT
                                + "; 'shiftstand rig list' names them"));
    }

    /**
     * Everything, checked.
     *
     * @throws BadInput with every problem at once
     */
    static WorkspaceWish of(String name, String sprockets, String port, String rig) {
        List<Problem> problems = new ArrayList<>();
        nameProblem("--name", name).ifPresent(problems::add);
        sprocketsProblem(sprockets).ifPresent(problems::add);
        portProblem(port).ifPresent(problems::add);
        nameProblem("--rig-name", rig).ifPresent(problems::add);
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return new WorkspaceWish(name, Integer.parseInt(sprockets), port, rig);
    }

    private static Problem problem(String option, String typed, String text) {
        return new Problem(option + " " + (typed.isEmpty() ? "''" : typed), 0, 0, text);
    }
}
