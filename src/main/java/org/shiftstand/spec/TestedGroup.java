package org.shiftstand.spec;

import java.util.Arrays;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.stats.LineBand;
import org.shiftstand.stats.MannKendall;
import org.shiftstand.stats.Persistence;
import org.shiftstand.stats.Pettitt;
import org.shiftstand.stats.Sample;
import org.shiftstand.stats.TheilSen;

/**
 * One group with its tests.
 *
 * @param persistence how far its values follow their predecessors
 * @param trend of this group alone
 * @param step of this group alone
 * @param trendP p of the trend among all tests of the run
 * @param changeP p of the step among all tests of the run
 * @param share of false signals that this group's charts may give, 0…1
 */
record TestedGroup(
        DriftGroup.Kind kind,
        CycleSeries series,
        Persistence persistence,
        MannKendall trend,
        Pettitt step,
        double trendP,
        double changeP,
        double share) {

    static TestedGroup alone(DriftGroup.Kind kind, CycleSeries series, Persistence persistence) {
        MannKendall trend = MannKendall.of(series.values()).inflatedBy(persistence.ofTrend(series.size()));
        Pettitt step = Pettitt.of(series.values()).inflatedBy(persistence.ofSums());
        return new TestedGroup(kind, series, persistence, trend, step, trend.p(), step.p(), DriftAnalysis.ALPHA);
    }

    TestedGroup among(double trendAmongAll, double changeAmongAll, double shareOfAll) {
        return new TestedGroup(kind, series, persistence, trend, step, trendAmongAll, changeAmongAll, shareOfAll);
    }

    boolean significant() {
        return Math.min(trendP, changeP) <= DriftAnalysis.ALPHA;
    }

    OptionalInt weightedSignal() {
        return cycle(new DriftCharts(series, persistence, share).weighted());
    }

    OptionalInt sumSignal() {
        return cycle(new DriftCharts(series, persistence, share).sums());
    }

    /** With the line, which costs more than all tests. */
    DriftGroup described() {
        TheilSen line = TheilSen.of(series.abscissas(), series.values()).orElseThrow();
        Optional<TheilSen.Limits> limits = line.limits(DriftAnalysis.CONFIDENCE, persistence.ofTrend(line.n()));
        return new DriftGroup(
                kind,
                series,
                new DriftGroup.Line(line.intercept(), line.slope()),
                LineBand.of(line, limits, DriftAnalysis.CONFIDENCE, persistence.ofSums()),
                TrendStatistics.drift(line, limits, series, DriftAnalysis.CONFIDENCE, persistence),
                trendP,
                change(),
                changeP,
                persistence.phi(),
                weightedSignal(),
                sumSignal(),
                shape(line));
    }

    private TrendStatistics.Change change() {
        return step.after() == 0
                ? new TrendStatistics.Change(0, OptionalInt.empty(), step.p())
                : new TrendStatistics.Change(
                        TrendStatistics.step(series, step.after()),
                        OptionalInt.of(series.cycle(step.after())),
                        step.p());
    }

    private OptionalInt cycle(OptionalInt place) {
        return place.isPresent() ? OptionalInt.of(series.cycle(place.getAsInt())) : place;
    }

    private DriftGroup.Shape shape(TheilSen line) {
        if (!significant()) {
            return DriftGroup.Shape.LEVEL;
        }
        if (changeP > DriftAnalysis.ALPHA) {
            return DriftGroup.Shape.DRIFT;
        }
        double[] values = series.values();
        double besideStep = distance(Arrays.copyOf(values, step.after()))
                + distance(Arrays.copyOfRange(values, step.after(), values.length));
        double besideLine = Arrays.stream(line.residuals()).map(Math::abs).sum();
        return trendP > DriftAnalysis.ALPHA || besideStep < besideLine ? DriftGroup.Shape.STEP : DriftGroup.Shape.DRIFT;
    }

    /** Sum of distances from the median. */
    private static double distance(double[] values) {
        double median = Sample.of(values).median().orElse(0);
        return Arrays.stream(values).map(v -> Math.abs(v - median)).sum();
    }
}
