package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.stats.Capability;
import org.shiftstand.stats.ConfidenceLimits;
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
        double mean = sample.mean().orElseThrow();
        double sd = sample.standardDeviation().orElseThrow();
        double half = factor(sample.count(), c.coverage(), c.confidence()) * sd;
        boolean low = clause.bound().atMost().isEmpty()
                || mean - half - clause.bound().low() < clause.bound().high() - mean - half;
        return OptionalDouble.of(low ? mean - half : mean + half);
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
     * Limits of the end, beyond which the population holds less than the coverage: with this confidence it is not farther out
     * than the factor for it gives, and not farther in than that for its complement.
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
        return of(values, values.n())
                .flatMap(capability -> index().map(index -> switch (index) {
                    case CP, PP -> capability.cp();
                    case CPK, PPK -> OptionalDouble.of(capability.cpk());
                }))
                .orElse(OptionalDouble.empty());
    }

    /** @param n effective number of values */
    LongRun.Limits capabilityLimits(GroupValues values, double n, double confidence) {
        Optional<ConfidenceLimits.Limits> limits = of(values, n)
                .flatMap(capability -> index().map(index -> switch (index) {
                    case CP, PP -> capability.ofCp(confidence);
                    case CPK, PPK -> capability.ofCpk(confidence);
                }));
        return limits.map(l -> new LongRun.Limits(l.low(), l.high())).orElse(LongRun.Limits.NONE);
    }

    /** Of (limit − mean)/3s or (upper − lower)/6s, through mean and spread (JCGM 100:2008, 5.1.2). */
    Sensitivity sensitivityOfCapability(GroupValues values, double value, double each) {
        Optional<Capability> of = of(values, values.n());
        if (of.isEmpty() || index().isEmpty()) {
            return Sensitivity.NONE;
        }
        Capability capability = of.get();
        double relative = Sensitivity.ofSpread(capability.sd(), capability.freedom(), each) / capability.sd();
        double throughSpread = Math.abs(value) * relative;
        double throughMean = switch (index().get()) {
            case CP, PP -> 0;
            case CPK, PPK -> 1 / (3 * capability.sd());
        };
        return new Sensitivity(
                Math.hypot(throughSpread, throughMean / Math.sqrt(values.n())),
                throughMean,
                Math.hypot(Math.abs(value), throughMean * Math.abs(capability.mean())));
    }

    private Optional<Statistic.Index> index() {
        return clause.statistic().settings() instanceof Statistic.Settings.Limits limits
                ? Optional.of(limits.index())
                : Optional.empty();
    }

    private Optional<Capability> of(GroupValues values, double n) {
        if (!(clause.statistic().settings() instanceof Statistic.Settings.Limits limits)) {
            return Optional.empty();
        }
        Sample all = values.sample();
        List<Sample> groups = GroupStatistic.samples(values);
        boolean within = limits.index() == Statistic.Index.CP || limits.index() == Statistic.Index.CPK;
        OptionalDouble sd = within ? Sample.pooledStandardDeviation(groups) : all.standardDeviation();
        double lost = within ? groups.size() : 1;
        double freedom = n - lost;
        return sd.isEmpty() || !(sd.getAsDouble() > 0) || !(freedom > 0)
                ? Optional.empty()
                : Optional.of(new Capability(
                        all.mean().orElseThrow(),
                        sd.getAsDouble(),
                        n,
                        freedom,
                        limits.limits().low(),
                        limits.limits().high()));
    }
}
