package org.shiftstand.learn.compare;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.stats.BrownForsythe;
import org.shiftstand.stats.ConfidenceLimits;
import org.shiftstand.stats.EffectiveSize;
import org.shiftstand.stats.Sample;
import org.shiftstand.stats.SpreadRatio;

/**
 * Ratio of spreads within runs, candidate over base: whether there is a difference by Brown and Forsythe's test, how large it is
 * by Bonett's interval. Both hold for values that are not normal. What differs from run to run is no part of it.
 *
 * <p>Where the distances from the median follow each other, they count for as many as they are worth.
 */
final class SpreadsTest {
    private final List<Series> base;
    private final List<Series> candidate;

    SpreadsTest(List<Series> base, List<Series> candidate) {
        this.base = base;
        this.candidate = candidate;
    }

    /** Empty where a side has too few values or all of them are the same. */
    Optional<Tested> test(OptionalDouble margin, double confidence) {
        if (!scatters(base) || !scatters(candidate)) {
            return Optional.empty();
        }
        double share = Math.min(share(base), share(candidate));
        SpreadRatio ratio = SpreadRatio.of(samples(base), samples(candidate), share);
        ConfidenceLimits.Limits limits = ratio.limits(confidence);
        double p = BrownForsythe.of(List.of(centred(base), centred(candidate))).pValue(share);
        return Optional.of(new Tested(
                sd(base),
                sd(candidate),
                ratio.ratio(),
                limits.low(),
                limits.high(),
                margin.isPresent() ? OptionalDouble.of(outside(ratio, margin.getAsDouble())) : margin,
                p,
                share,
                margin.isPresent() ? OptionalDouble.of(ratio.power(margin.getAsDouble(), 1 - confidence)) : margin,
                more -> ratio.times(more).power(margin.orElse(2), 1 - confidence)));
    }

    /** The p-value at which a limit of the ratio would just reach the margin, by the same limits as are shown. */
    private static double outside(SpreadRatio ratio, double bound) {
        double below = 1e-9;
        double above = 1 - 1e-9;
        while (above - below > 1e-9) {
            double p = (below + above) / 2;
            ConfidenceLimits.Limits limits = ratio.limits(1 - p);
            if (limits.low() > 1 / bound && limits.high() < bound) {
                above = p;
            } else {
                below = p;
            }
        }
        return above;
    }

    private static boolean scatters(List<Series> runs) {
        int n = runs.stream().mapToInt(Series::n).sum();
        return n >= SpreadRatio.FEWEST && samples(runs).size() > 0 && sd(runs) > 0;
    }

    private static List<Sample> samples(List<Series> runs) {
        return runs.stream()
                .flatMap(run -> run.samples().stream())
                .filter(sample -> sample.count() > 1)
                .toList();
    }

    private static double sd(List<Series> runs) {
        return Sample.pooledStandardDeviation(samples(runs)).orElse(0);
    }

    private static Sample centred(List<Series> runs) {
        return Sample.of(runs.stream()
                .flatMapToDouble(run -> java.util.Arrays.stream(run.centred()))
                .toArray());
    }

    private static double share(List<Series> runs) {
        return EffectiveSize.of(
                        runs.stream().flatMap(run -> run.distances().stream()).toList())
                .share();
    }
}
