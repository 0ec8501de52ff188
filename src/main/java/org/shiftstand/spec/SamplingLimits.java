package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.stats.ConfidenceLimits;
import org.shiftstand.stats.Positioning;
import org.shiftstand.stats.Sample;

/** One-sided confidence limits of a long-run value as far as sampling goes: which formula goes with which statistic. */
final class SamplingLimits {
    private final Clause clause;
    private final GroupValues values;
    private final double worth;
    private final Sample sample;

    /** @param worth effective over actual number of shifts, above 0 to 1 */
    SamplingLimits(Clause clause, GroupValues values, double worth) {
        this.clause = clause;
        this.values = values;
        this.worth = worth;
        this.sample = values.sample();
    }

    /** Both limits, each at this confidence; infinite where there is none. */
    LongRun.Limits at(double confidence) {
        double n = worth * values.n();
        return switch (clause.statistic().kind()) {
            case MEAN -> of(ConfidenceLimits.mean(mean(), sd(), n, confidence));
            case STANDARD_DEVIATION -> of(ConfidenceLimits.standardDeviation(sd(), n - 1, confidence));
            case POOLED_STANDARD_DEVIATION -> pooled(1, confidence);
            case REPEATABILITY -> largest(confidence);
            case MEDIAN -> of(ConfidenceLimits.percentile(sample, 0.5, n, confidence));
            case PERCENTILE ->
                of(ConfidenceLimits.percentile(sample, clause.statistic().fraction(), n, confidence));
            case PROPORTION -> proportion(confidence);
            case REVERSAL -> reversal(confidence);
            case TOLERANCE_INTERVAL -> new NormalTheory(clause).toleranceLimits(sample, n, confidence);
            case CAPABILITY -> new NormalTheory(clause).capabilityLimits(values, n, confidence);
            case DRIFT -> OverCycles.of(clause, values).driftLimits(confidence);
            case EVERY, MINIMUM, MAXIMUM, RANGE, COUNT, CHANGE_POINT, FIRST_FAILURE, EQUIVALENT_TO ->
                LongRun.Limits.NONE; // refused while reading: no long-run value
        };
    }

    /** Why there is no limit at this confidence; empty where there is. */
    Optional<String> lacking(double confidence) {
        LongRun.Limits limits = at(confidence);
        boolean low = clause.bound().atLeast().isPresent() && Double.isInfinite(limits.low());
        boolean high = clause.bound().atMost().isPresent() && Double.isInfinite(limits.high());
        return low || high
                ? Optional.of(Figures.shifts(values.n())
                        + (values.n() == 1 ? " has" : " have") + " no confidence limit of this statistic on that side:"
                        + " more are needed")
                : Optional.empty();
    }

    private double mean() {
        return sample.mean().orElse(Double.NaN);
    }

    private double sd() {
        return sample.standardDeviation().orElse(Double.NaN);
    }

    private LongRun.Limits pooled(double factor, double confidence) {
        List<Sample> groups = GroupStatistic.samples(values);
        double freedom = worth
                * groups.stream().mapToInt(g -> Math.max(0, g.count() - 1)).sum();
        OptionalDouble sd = Sample.pooledStandardDeviation(groups);
        return sd.isEmpty() || !(freedom > 0)
                ? LongRun.Limits.NONE
                : of(ConfidenceLimits.standardDeviation(factor * sd.getAsDouble(), freedom, confidence));
    }

    /** Four standard deviations of the sprocket with the largest; each at a confidence that holds for all together. */
    private LongRun.Limits largest(double confidence) {
        List<Sample> groups = GroupStatistic.samples(values).stream()
                .filter(group -> group.count() >= 2)
                .toList();
        double each = 1 - (1 - confidence) / Math.max(1, groups.size()); // Bonferroni: the largest of several
        double low = Double.NEGATIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (Sample group : groups) {
            double fourS = 4 * group.standardDeviation().orElseThrow();
            double freedom = worth * group.count() - 1;
            if (!(freedom > 0)) {
                return LongRun.Limits.NONE;
            }
            ConfidenceLimits.Limits limits = ConfidenceLimits.standardDeviation(fourS, freedom, each);
            low = Math.max(low, limits.low());
            high = Math.max(high, limits.high());
        }
        return groups.isEmpty() ? LongRun.Limits.NONE : new LongRun.Limits(low, high);
    }

    /** Clopper and Pearson, with unknown shifts counted for the lower limit as misses and for the upper one as hits. */
    private LongRun.Limits proportion(double confidence) {
        int hits = new GroupStatistic(clause).counted(values);
        int unknown = values.missing();
        int all = values.n() + unknown;
        return new LongRun.Limits(
                ConfidenceLimits.proportion(hits, all, confidence).low(),
                ConfidenceLimits.proportion(hits + unknown, all, confidence).high());
    }

    /** Welch: the difference of two means, of the sprocket whose reversal is judged. */
    private LongRun.Limits reversal(double confidence) {
        List<Positioning.Position> sprockets = Positions.bySprocket(values.natural()).stream()
                .filter(of -> of.forward().count() >= 2 && of.backward().count() >= 2)
                .toList();
        double each = 1 - (1 - confidence) / Math.max(1, sprockets.size()); // Bonferroni, as above
        LongRun.Limits widest = LongRun.Limits.NONE;
        double farthest = Double.NEGATIVE_INFINITY;
        for (Positioning.Position of : sprockets) {
            double away = Math.abs(of.reversal().orElse(0));
            if (away > farthest) {
                farthest = away;
                widest = of(ConfidenceLimits.difference(of.forward(), of.backward(), worth, each));
            }
        }
        return widest;
    }

    private static LongRun.Limits of(ConfidenceLimits.Limits limits) {
        return new LongRun.Limits(limits.low(), limits.high());
    }
}
