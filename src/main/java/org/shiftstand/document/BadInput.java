package org.shiftstand.document;

import java.util.List;
import java.util.stream.Collectors;

/** Input that cannot be used: all its problems at once. Commands end with exit code 2 and print them, no stack trace. */
public final class BadInput extends RuntimeException {
    private final transient List<Problem> problems;

    public BadInput(List<Problem> problems) {
        super(problems.stream().map(Problem::toString).collect(Collectors.joining("\n")));
        this.problems = List.copyOf(problems);
    }

    public BadInput(Problem problem) {
        this(List.of(problem));
    }

    public List<Problem> problems() {
        return problems;
    }
}
