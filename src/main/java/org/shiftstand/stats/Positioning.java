package org.shiftstand.stats;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/**
 * Accuracy and repeatability of positioning, by the definitions of ISO 230-2:2014, clause 3 (definitions from memory, held to
 * worked figures). Deviations are position − target, in any one unit; divisor n − 1.
 *
 * @param positions in the order of the axis; at least one
 */
public record Positioning(List<Position> positions) {
    public Positioning {
        positions = List.copyOf(positions);
        if (positions.isEmpty()) {
            throw new IllegalArgumentException("an axis has positions: positions=0");
        }
    }

    /** Reached in one direction, in the other, or in whichever: {@code ↑}, {@code ↓} or both. */
    public enum Approach {
        FORWARD,
        BACKWARD,
        BOTH
    }

    /**
     * One position, approached from both sides.
     *
     * @param forward deviations of approaches in the positive direction; empty where there were none
     * @param backward likewise of the other
     */
    public record Position(Sample forward, Sample backward) {
        /** x̄↑ − x̄↓, signed; empty unless approached from both sides. */
        public OptionalDouble reversal() {
            return both(forward.mean(), backward.mean(), (a, b) -> a - b);
        }

        /** (x̄↑ + x̄↓)/2. */
        public OptionalDouble bidirectionalMean() {
            return both(forward.mean(), backward.mean(), (a, b) -> (a + b) / 2);
        }

        /** 4s of one direction; of both max(2s↑ + 2s↓ + |B|, 4s↑, 4s↓). */
        public OptionalDouble repeatability(Approach approach) {
            OptionalDouble up = times(4, forward.standardDeviation());
            OptionalDouble down = times(4, backward.standardDeviation());
            return switch (approach) {
                case FORWARD -> up;
                case BACKWARD -> down;
                case BOTH ->
                    both(
                            up,
                            down,
                            (a, b) ->
                                    Math.max(a / 2 + b / 2 + Math.abs(reversal().orElse(0)), Math.max(a, b)));
            };
        }

        private static OptionalDouble times(double factor, OptionalDouble value) {
            return value.isPresent() ? OptionalDouble.of(factor * value.getAsDouble()) : value;
        }

        private static OptionalDouble both(
                OptionalDouble a, OptionalDouble b, java.util.function.DoubleBinaryOperator together) {
            return a.isPresent() && b.isPresent()
                    ? OptionalDouble.of(together.applyAsDouble(a.getAsDouble(), b.getAsDouble()))
                    : OptionalDouble.empty();
        }

        private List<Sample> approached(Approach approach) {
            return switch (approach) {
                case FORWARD -> List.of(forward);
                case BACKWARD -> List.of(backward);
                case BOTH -> List.of(forward, backward);
            };
        }
    }

    /** B: the largest |reversal|; empty where no position was approached from both sides. */
    public OptionalDouble reversal() {
        return largest(p -> absolute(p.reversal()));
    }

    /** Mean of the reversals, signed. */
    public OptionalDouble meanReversal() {
        return positions.stream()
                .map(Position::reversal)
                .flatMapToDouble(OptionalDouble::stream)
                .average();
    }

    /** R, R↑ or R↓: the largest of any position. */
    public OptionalDouble repeatability(Approach approach) {
        return largest(p -> p.repeatability(approach));
    }

    /** E, E↑ or E↓, the systematic deviation: range of the mean deviations. */
    public OptionalDouble systematicDeviation(Approach approach) {
        return range(approach, s -> s.mean().orElseThrow(), s -> s.mean().orElseThrow(), 1);
    }

    /** M, the mean bidirectional deviation: range of (x̄↑ + x̄↓)/2. */
    public OptionalDouble meanDeviation() {
        double[] means = positions.stream()
                .map(Position::bidirectionalMean)
                .flatMapToDouble(OptionalDouble::stream)
                .toArray();
        return means.length == 0 ? OptionalDouble.empty() : OptionalDouble.of(spanOf(means));
    }

    /** A, A↑ or A↓, the accuracy: max(x̄ + 2s) − min(x̄ − 2s). */
    public OptionalDouble accuracy(Approach approach) {
        return range(
                approach, s -> s.mean().orElseThrow() + 2 * sd(s), s -> s.mean().orElseThrow() - 2 * sd(s), 2);
    }

    private OptionalDouble range(
            Approach approach, ToDoubleFunction<Sample> upper, ToDoubleFunction<Sample> lower, int least) {
        List<Sample> samples = positions.stream()
                .flatMap(p -> p.approached(approach).stream())
                .filter(sample -> sample.count() >= least)
                .toList();
        return samples.isEmpty()
                ? OptionalDouble.empty()
                : OptionalDouble.of(samples.stream().mapToDouble(upper).max().orElseThrow()
                        - samples.stream().mapToDouble(lower).min().orElseThrow());
    }

    private OptionalDouble largest(Function<Position, OptionalDouble> of) {
        return positions.stream()
                .map(of)
                .flatMapToDouble(OptionalDouble::stream)
                .max();
    }

    private static double sd(Sample sample) {
        return sample.standardDeviation().orElseThrow();
    }

    private static OptionalDouble absolute(OptionalDouble value) {
        return value.isPresent() ? OptionalDouble.of(Math.abs(value.getAsDouble())) : value;
    }

    private static double spanOf(double[] values) {
        Sample sample = Sample.of(values);
        return sample.maximum().orElseThrow() - sample.minimum().orElseThrow();
    }
}
