package org.shiftstand.spec;

import java.util.OptionalDouble;
import org.shiftstand.stats.Capability;
import org.shiftstand.stats.Sample;
import org.shiftstand.stats.ToleranceFactor;

/** Statistics that take values to be normally distributed: tolerance intervals and capability. */
final class NormalTheory {
    private final Clause clause;

    NormalTheory(Clause clause) {
        this.clause = clause;
    }

    /** The end of the tolerance interval that is nearest to a limit, or farthest beyond it; empty for less than two values. */
    OptionalDouble toleranceEnd(Sample sample) {
        if (sample.count() < 2 || !(clause.statistic().settings() instanceof Statistic.Settings.Coverage c)) {
            return OptionalDouble.empty();
        }
        double half = factor(sample.count(), c.coverage(), c.confidence()) * sample.standardDeviation().orElseThrow();
        double mean = sample.mean().orElseThrow();
        double low = mean - half;
        double high = mean + half;
        return OptionalDouble.of(
                clause.bound().atMost().isEmpty()
                                || low - clause.bound().low() < clause.bound().high() - high
                        ? low
                        : high);
    }

    /** One-sided where the clause has one limit. */
    private double factor(double n, double coverage, double confidence) {
        boolean both =
                clause.bound().atLeast().isPresent() && clause.bound().atMost().isPresent();
        int whole = (int) Math.max(2, Math.floor(n));
        return both
                ? ToleranceFactor.twoSided(whole, coverage, confidence)
                : ToleranceFactor.oneSided(whole, coverage, confidence);
    }

    /**
     * What is known of the ends of the true interval of that coverage: with the decision's confidence they are not farther
     * out than the factor for that confidence, and not farther in than that for its complement.
     */
    LongRun.Limits toleranceLimits(Sample sample, double n, double confidence) {
        OptionalDouble end = toleranceEnd(sample);
        if (end.isEmpty() || !(clause.statistic().settings() instanceof Statistic.Settings.Coverage c)) {
            return LongRun.Limits.NONE;
        }
        double mean = sample.mean().orElseThrow();
        double sd = sample.standardDeviation().orElseThrow();
        double outer = factor(n, c.coverage(), confidence) * sd;
        double inner = factor(n, c.coverage(), 1 - confidence) * sd;
        return end.getAsDouble() >= mean
                ? new LongRun.Limits(mean + inner, mean + outer)
                : new LongRun.Limits(mean - outer, mean - inner);
    }

    /** Empty for less than two values, and for values that are all the same. */
    OptionalDouble capability(GroupValues values) {
        if (!(clause.statistic().settings() instanceof Statistic.Settings.Limits limits)) {
            return OptionalDouble.empty();
        }
        return index(values, limits).map(c -> OptionalDouble.of(c.index)).orElse(OptionalDouble.empty());
    }
}
