package org.shiftstand.learn.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.stats.ConfidenceLimits;
import org.shiftstand.stats.Equivalence;
import org.shiftstand.stats.Sample;

/**
 * Difference of means.
 *
 * <p>From the scatter within runs by Welch, each run's mean with the same weight. With two runs a side or more also from the
 * scatter of the run means, by Student with (runs − 2) degrees of freedom, the run being the block: mounting and temperature
 * are the bench's and alike on both sides. Then the wider interval and the larger p count, so that neither a lucky agreement
 * of two runs nor a bench that moves between runs makes a claim too easy.
 */
final class MeansTest {
    /** For a row without a margin: the arithmetic wants one, no verdict is taken from it. */
    private static final double NO_BOUND = 1e12;

    private final List<Series> base;
    private final List<Series> candidate;
    private final double baseShare;
    private final double candidateShare;

    MeansTest(List<Series> base, List<Series> candidate, double baseShare, double candidateShare) {
        this.base = base;
        this.candidate = candidate;
        this.baseShare = baseShare;
        this.candidateShare = candidateShare;
    }

    Tested test(OptionalDouble margin, double confidence) {
        double before = average(base);
        double after = average(candidate);
        double bound = margin.orElse(NO_BOUND);
        List<Equivalence> ways = ways(bound);
        if (ways.isEmpty()) {
            return withoutScatter(before, after, margin);
        }
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        double pEquivalent = 0;
        double pDifference = 0;
        for (Equivalence way : ways) {
            ConfidenceLimits.Limits limits = way.limits(confidence);
            low = Math.min(low, limits.low());
            high = Math.max(high, limits.high());
            pEquivalent = Math.max(pEquivalent, way.pValue());
            pDifference = Math.max(pDifference, way.pOfNoDifference());
        }
        return new Tested(
                before,
                after,
                after - before,
                low,
                high,
                margin.isPresent() ? OptionalDouble.of(pEquivalent) : margin,
                pDifference,
                Math.min(baseShare, candidateShare),
                margin.isPresent() ? OptionalDouble.of(power(ways, 1, confidence)) : margin,
                more -> power(ways, more, confidence));
    }

    private static double power(List<Equivalence> ways, double more, double confidence) {
        return ways.stream()
                .mapToDouble(way -> way.times(more).power(0, 1 - confidence))
                .min()
                .orElseThrow();
    }

    /** Candidate first, so that a difference is what the change brought. */
    private List<Equivalence> ways(double bound) {
        List<Equivalence> ways = new ArrayList<>();
        List<Equivalence.Estimated> after = estimated(candidate, candidateShare);
        List<Equivalence.Estimated> before = estimated(base, baseShare);
        if (varies(after) || varies(before)) {
            ways.add(Equivalence.welch(after, before, bound));
        }
        if (base.size() > 1 && candidate.size() > 1) {
            Equivalence.Side a = runs(candidate);
            Equivalence.Side b = runs(base);
            if (a.sd() + b.sd() > 0) {
                ways.add(Equivalence.student(a, b, bound));
            }
        }
        return ways;
    }

    private static boolean varies(List<Equivalence.Estimated> means) {
        return means.stream().anyMatch(mean -> mean.variance() > 0);
    }

    private static List<Equivalence.Estimated> estimated(List<Series> runs, double share) {
        return runs.stream().map(run -> run.estimated(share)).toList();
    }

    private static Equivalence.Side runs(List<Series> runs) {
        Sample means = Sample.of(runs.stream().mapToDouble(Series::mean).toArray());
        return new Equivalence.Side(
                means.mean().orElseThrow(), means.standardDeviation().orElseThrow(), means.count());
    }

    private static double average(List<Series> runs) {
        return runs.stream().mapToDouble(Series::mean).average().orElseThrow();
    }

    /** Every value the same on either side: what is seen is all there is. */
    private static Tested withoutScatter(double before, double after, OptionalDouble margin) {
        double difference = after - before;
        return new Tested(
                before,
                after,
                difference,
                difference,
                difference,
                margin.isPresent() ? OptionalDouble.of(Math.abs(difference) < margin.getAsDouble() ? 0 : 1) : margin,
                difference == 0 ? 1 : 0,
                1,
                margin.isPresent() ? OptionalDouble.of(1) : margin,
                more -> 1);
    }
}
