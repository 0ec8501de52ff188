package org.shiftstand.spec;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.MannKendall;
import org.shiftstand.stats.Persistence;
import org.shiftstand.stats.Pettitt;
import org.shiftstand.stats.Sample;
import org.shiftstand.stats.TheilSen;

/** What happens to a value over the cycles of a run: the statistics {@code drift}, {@code change-point}, {@code first-failure}. */
public final class TrendStatistics {
    private TrendStatistics() {}

    /**
     * Robust change over the run: median slope a cycle × cycles spanned, in the measure's unit.
     *
     * @param change signed, positive where the value grows
     * @param low lower confidence limit; empty where there are too few cycles for one
     * @param high upper confidence limit; empty likewise
     * @param p two-sided, of a trend as clear without any (Mann–Kendall)
     * @param cyclesSpanned last − first cycle
     * @param effective how many independent values the series is worth: values of a unit that follow their predecessors
     *     are worth fewer than their number
     */
    public record Drift(
            double change,
            OptionalDouble low,
            OptionalDouble high,
            double confidence,
            double p,
            int cyclesSpanned,
            double effective) {}

    /**
     * One change of level.
     *
     * @param step median after − median before where the change is significant, else 0
     * @param cycle first cycle of the new level; empty where there is no significant change
     * @param p two-sided, of a change as clear without any (Pettitt)
     */
    public record Change(double step, OptionalInt cycle, double p) {}

    /**
     * Drift with confidence limits; empty for less than two cycles.
     *
     * @param confidence two-sided, 0…1; for one-sided limits at 95 % give 0.9
     */
    public static Optional<Drift> drift(CycleSeries series, double confidence) {
        return drift(series, confidence, Persistence.of(series.values()));
    }

    /** As {@link #drift(CycleSeries, double)}, where following is known better than from this series alone. */
    static Optional<Drift> drift(CycleSeries series, double confidence, Persistence persistence) {
        return TheilSen.of(series.abscissas(), series.values())
                .map(line -> drift(
                        line,
                        line.limits(confidence, persistence.ofTrend(series.size())),
                        series,
                        confidence,
                        persistence));
    }

    /** @param limits of the line's slope, with this confidence and persistence */
    static Drift drift(
            TheilSen line,
            Optional<TheilSen.Limits> limits,
            CycleSeries series,
            double confidence,
            Persistence persistence) {
        int n = series.size();
        double inflation = persistence.ofTrend(n);
        int spanned = series.spanned();
        return new Drift(
                line.slope() * spanned,
                limits.map(l -> OptionalDouble.of(l.low() * spanned)).orElse(OptionalDouble.empty()),
                limits.map(l -> OptionalDouble.of(l.high() * spanned)).orElse(OptionalDouble.empty()),
                confidence,
                MannKendall.of(series.values()).inflatedBy(inflation).p(),
                spanned,
                n / inflation);
    }

    /**
     * The step between the medians before and after Pettitt's place, where it is significant.
     *
     * @param alpha significance, 0…1
     * @return empty for less than two cycles
     */
    public static Optional<Change> changePoint(CycleSeries series, double alpha) {
        return changePoint(series, alpha, Persistence.of(series.values()));
    }

    static Optional<Change> changePoint(CycleSeries series, double alpha, Persistence persistence) {
        if (series.size() < 2) {
            return Optional.empty();
        }
        Pettitt test = Pettitt.of(series.values()).inflatedBy(persistence.ofSums());
        return Optional.of(
                test.p() <= alpha && test.after() > 0
                        ? new Change(step(series, test.after()), OptionalInt.of(series.cycle(test.after())), test.p())
                        : new Change(0, OptionalInt.empty(), test.p()));
    }

    /** Median of what lies after the first values − median of those. */
    static double step(CycleSeries series, int after) {
        double[] values = series.values();
        double before = Sample.of(Arrays.copyOf(values, after)).median().orElseThrow();
        double then = Sample.of(Arrays.copyOfRange(values, after, values.length))
                .median()
                .orElseThrow();
        return then - before;
    }

    /** First cycle with a shift outside the bound, where a cycle has several; empty where none does. */
    public static OptionalInt firstFailure(List<Shift> shifts, double[] values, Bound bound) {
        int first = Integer.MAX_VALUE;
        for (int i = 0; i < values.length; i++) {
            int cycle = shifts.get(i).cycle();
            if (cycle > 0 && !holds(bound, values[i])) {
                first = Math.min(first, cycle);
            }
        }
        return first == Integer.MAX_VALUE ? OptionalInt.empty() : OptionalInt.of(first);
    }

    private static boolean holds(Bound bound, double value) {
        return bound.atLeast().orElse(Double.NEGATIVE_INFINITY) <= value
                && value <= bound.atMost().orElse(Double.POSITIVE_INFINITY);
    }
}
