package org.shiftstand.learn;

import java.util.List;
import java.util.stream.Collectors;
import org.shiftstand.quantity.Direction;

/** By which way a row's shifts come to their landing. */
enum RowKind {
    /** Back from overtravel. */
    RETURNING("-returning"),
    /** Straight. */
    DIRECT("-direct"),
    /** Now so, now otherwise. */
    EITHER("-either"),
    /** Not seen. */
    GAP("");

    private final String suffix;

    RowKind(String suffix) {
        this.suffix = suffix;
    }

    /** For ids of clauses. */
    String suffix() {
        return suffix;
    }

    static RowKind of(LearnedStep step) {
        return step.overtravel().match(new OvertravelPattern.Cases<>() {
            @Override
            public RowKind programmed(OvertravelPattern.Programmed row) {
                return RETURNING;
            }

            @Override
            public RowKind none(OvertravelPattern.None row) {
                return DIRECT;
            }

            @Override
            public RowKind irregular(OvertravelPattern.Irregular row) {
                return EITHER;
            }

            @Override
            public RowKind gap(OvertravelPattern.Gap row) {
                return GAP;
            }
        });
    }

    static List<LearnedStep> ofDirection(Learned learned, Direction direction) {
        return learned.steps().stream()
                .filter(step -> step.direction() == direction)
                .toList();
    }

    static List<LearnedStep> steps(Learned learned, Direction direction, RowKind kind) {
        return learned.steps().stream()
                .filter(step -> step.direction() == direction && of(step) == kind)
                .toList();
    }

    /** Where shifts of some rows land, as a list of a spec: {@code [2, 3, 4]}. */
    static String sprockets(List<LearnedStep> steps) {
        return steps.stream()
                .map(LearnedStep::to)
                .sorted()
                .map(String::valueOf)
                .collect(Collectors.joining(", ", "[", "]"));
    }
}
