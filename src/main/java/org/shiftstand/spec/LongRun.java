package org.shiftstand.spec;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.DoubleUnaryOperator;
import org.shiftstand.bench.Budget;

/**
 * The long-run value of a group's statistic: confidence limits from sampling and measurement combined.
 *
 * <p>Errors that differ from shift to shift are in the scatter of the values already. What all shifts share is put beside
 * the sampling, root of squares, each limit at the same one-sided confidence. Where values follow each other over cycles,
 * the effective number of shifts is used. A proportion counts unknown shifts for and against.
 */
final class LongRun {
    /** p-values below this are not told apart. */
    private static final double LEAST_P = 1e-6;

    /** What can be known of the long-run value: at least, at most; infinite where there is no such limit. */
    record Limits(double low, double high) {
        static final Limits NONE = new Limits(Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY);
    }

    private final Clause clause;
    private final GroupValues values;
    private final Optional<Budget> budget;
    private final double worth;
    private final SamplingLimits sampling;

    /** @param worth effective over actual number of shifts, above 0 to 1 */
    LongRun(Clause clause, GroupValues values, Optional<Budget> budget, double worth) {
        this.clause = clause;
        this.values = values;
        this.budget = budget;
        this.worth = worth;
        this.sampling = new SamplingLimits(clause, values, worth);
    }

    /** Both one-sided limits at this confidence. */
    Limits at(double confidence) {
        Limits drawn = sampling.at(confidence);
        OptionalDouble value = new GroupStatistic(clause).of(values);
        if (budget.isEmpty() || clause.measure().isEmpty() || value.isEmpty()) {
            return drawn;
        }
        return widened(drawn, value.getAsDouble(), confidence);
    }

    private Limits widened(Limits drawn, double value, double confidence) {
        MeasuringUncertainty shared = MeasuringUncertainty.shared(clause, values, value, budget.orElseThrow());
        double more = shared.oneSided(confidence);
        double low = value - Math.hypot(value - drawn.low(), more);
        double high = value + Math.hypot(drawn.high() - value, more);
        // a limit on the other side of the value, below one half of confidence, keeps its side
        return new Limits(
                drawn.low() > value ? value + Math.hypot(drawn.low() - value, more) : low,
                drawn.high() < value ? value - Math.hypot(value - drawn.high(), more) : high);
    }

    /** Why no limit can be had; empty where there is one. */
    Optional<String> lacking() {
        return sampling.lacking(confidence());
    }

    private double confidence() {
        Decision decision = clause.decision();
        return decision.falseAccept().isPresent() ? 1 - decision.falseAccept().getAsDouble() : decision.confidence();
    }

    /** What a report shows beside the verdict. */
    Assessment shown(Limits limits, Bound bound) {
        double above = bound.atMost().isPresent() ? 1 - confidenceWhere(bound.high(), c -> at(c).high(), true) : 0;
        double below = bound.atLeast().isPresent() ? 1 - confidenceWhere(bound.low(), c -> at(c).low(), false) : 0;
        return new Assessment(
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                OptionalDouble.of(Math.max(0, 1 - above - below)),
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                finite(limits.low()),
                finite(limits.high()),
                worth < 1 ? OptionalDouble.of(worth * values.n()) : OptionalDouble.empty(),
                OptionalDouble.of(pValue(bound)));
    }

    /** Of the long-run value being inside: 1 − the confidence at which the limit on the inner side meets the bound. */
    private double pValue(Bound bound) {
        double above = bound.atMost().isPresent() ? 1 - confidenceWhere(bound.high(), c -> at(c).low(), false) : 1;
        double below = bound.atLeast().isPresent() ? 1 - confidenceWhere(bound.low(), c -> at(c).high(), true) : 1;
        return Math.min(above, below);
    }

    /**
     * The confidence at which a limit passes a bound, within 1e-6.
     *
     * @param rising whether the limit rises with confidence, as an upper one does
     */
    private static double confidenceWhere(double bound, DoubleUnaryOperator limitAt, boolean rising) {
        double below = LEAST_P;
        double above = 1 - LEAST_P;
        while (above - below > LEAST_P) {
            double middle = (below + above) / 2;
            double limit = limitAt.applyAsDouble(middle);
            if (rising ? limit <= bound : limit >= bound) {
                below = middle;
            } else {
                above = middle;
            }
        }
        return below;
    }

    private static OptionalDouble finite(double limit) {
        return Double.isFinite(limit) ? OptionalDouble.of(limit) : OptionalDouble.empty();
    }
}
