package org.shiftstand.spec;

import java.util.Arrays;
import java.util.OptionalInt;
import org.shiftstand.stats.Cusum;
import org.shiftstand.stats.Ewma;
import org.shiftstand.stats.Persistence;
import org.shiftstand.stats.Sample;

/**
 * Two charts over one series, with the first cycles as their target: they tell when something began, not whether.
 *
 * <p>The target is the mean of the first third, at least 8 and at most 50 cycles; the spread comes from differences of
 * neighbours, so that a drift does not widen it. Both charts' limits are set for all cycles and groups together, and allow for the
 * target being a mean of few and for values that follow their predecessors.
 */
final class DriftCharts {
    /** Weight of {@link Ewma}; 0.2 to 0.3 is usual (NIST/SEMATECH e-Handbook 6.3.2.4). */
    private static final double WEIGHT = 0.2;
    /** {@link Cusum} is set for a step of twice this many standard deviations. */
    private static final double SLACK = 1;

    private static final int FEWEST = 8;
    private static final int MOST = 50;

    private final double[] values;
    private final int first;
    private final double target;
    private final double sd;
    private final Persistence persistence;
    private final double looks;

    /** @param share of false signals that this series may give, 0…1 */
    DriftCharts(CycleSeries series, Persistence persistence, double share) {
        this.values = series.values();
        this.first = Math.min(MOST, Math.max(FEWEST, values.length / 3));
        this.target = Sample.of(Arrays.copyOf(values, Math.min(first, values.length)))
                .mean()
                .orElse(0);
        this.sd = persistence.sd(values);
        this.persistence = persistence;
        this.looks = values.length / share;
    }

    /** Place of the first weighted mean outside. */
    OptionalInt weighted() {
        if (sd == 0) {
            return OptionalInt.empty(); // all alike: rounding alone would leave limits of no width
        }
        double width = Ewma.width(looks);
        double ofOne = sd * Math.sqrt(persistence.ofWeighted(WEIGHT));
        double ofTarget = sd * Math.sqrt(persistence.ofSums() / first);
        // the chart's own factor is taken out again, so that its limits come to those of both parts together
        double both = Math.hypot(ofOne, ofTarget / Math.sqrt(WEIGHT / (2 - WEIGHT)));
        return Ewma.of(values, target, both, WEIGHT, width).firstOutside();
    }

    /** Place of the first sum outside. */
    OptionalInt sums() {
        if (sd == 0) {
            return OptionalInt.empty();
        }
        double one = sd * Math.sqrt(persistence.ofSums());
        double threshold = Cusum.threshold(SLACK, looks);
        double ofTarget = 2 / Math.sqrt(first);
        return Cusum.of(values, target, (SLACK + ofTarget) * one, threshold * one)
                .firstOutside();
    }
}
