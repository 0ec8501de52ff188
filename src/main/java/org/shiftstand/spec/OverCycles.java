package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.Sample;

/** A group's values over the cycles of the run: drift, step and first failure. */
final class OverCycles {
    private final Statistic.Settings settings;
    private final GroupValues values;

    private OverCycles(Statistic.Settings settings, GroupValues values) {
        this.settings = settings;
        this.values = values;
    }

    static OverCycles of(Clause clause, GroupValues values) {
        return new OverCycles(clause.statistic().settings(), values);
    }

    /** Empty for less than two cycles. */
    OptionalDouble drift() {
        return TrendStatistics.drift(series(), 0.5)
                .map(drift -> OptionalDouble.of(drift.change()))
                .orElse(OptionalDouble.empty());
    }

    /** Each one-sided at this confidence; infinite where there are too few cycles. */
    LongRun.Limits driftLimits(double confidence) {
        boolean upper = confidence > 0.5;
        double twoSided = Math.abs(2 * confidence - 1);
        Optional<TrendStatistics.Drift> drift = TrendStatistics.drift(series(), Math.max(twoSided, 1e-9));
        double low = drift.map(d -> d.low().orElse(Double.NEGATIVE_INFINITY)).orElse(Double.NEGATIVE_INFINITY);
        double high = drift.map(d -> d.high().orElse(Double.POSITIVE_INFINITY)).orElse(Double.POSITIVE_INFINITY);
        // below one half the lower limit lies above the value: the two change places
        return upper ? new LongRun.Limits(low, high) : new LongRun.Limits(high, low);
    }

    /** 0 where there is no significant step; empty for less than two cycles. */
    OptionalDouble changePoint() {
        double alpha = settings instanceof Statistic.Settings.Significance s ? s.alpha() : 0.05;
        return TrendStatistics.changePoint(series(), alpha)
                .map(change -> OptionalDouble.of(change.step()))
                .orElse(OptionalDouble.empty());
    }

    /**
     * First cycle with a shift outside the limits; the cycle after the last where none is; empty without values.
     *
     * @param inside by how much the limits move inside; below 0 outside
     */
    OptionalDouble firstFailure(double inside) {
        if (values.n() == 0 || !(settings instanceof Statistic.Settings.Broken broken)) {
            return OptionalDouble.empty();
        }
        Bound limits = broken.limits();
        Bound moved = new Bound(
                limits.atLeast().isPresent() ? OptionalDouble.of(limits.low() + inside) : OptionalDouble.empty(),
                limits.atMost().isPresent() ? OptionalDouble.of(limits.high() - inside) : OptionalDouble.empty(),
                limits.unit());
        OptionalInt first = TrendStatistics.firstFailure(values.shifts(), values.values(), moved);
        int after = values.shifts().stream().mapToInt(Shift::cycle).max().orElse(0) + 1;
        return OptionalDouble.of(first.orElse(after));
    }

    /** Each sprocket and direction about its own median: what differs between them is no change over cycles. */
    private CycleSeries series() {
        List<GroupValues.Natural> groups = values.natural();
        double[] about = values.values();
        for (GroupValues.Natural group : groups) {
            double middle = Sample.of(group.values()).median().orElse(0);
            for (int i : group.places()) {
                about[i] -= middle;
            }
        }
        return CycleSeries.of(values.shifts(), about);
    }
}
