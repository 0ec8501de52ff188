package org.shiftstand.document;

import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
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

    /**
     * Reads one of several files, so that the problems of all of them can be told at once.
     *
     * @param problems takes what is wrong
     * @return empty where something is
     */
    public static <T> Optional<T> gathered(List<Problem> problems, Supplier<T> read) {
        try {
            return Optional.of(read.get());
        } catch (BadInput e) {
            problems.addAll(e.problems());
            return Optional.empty();
        }
    }

    public List<Problem> problems() {
        return problems;
    }
}
