package org.shiftstand.spec;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.shift.Measure;
import org.shiftstand.stats.LineBand;

/**
 * One measure of one kind of shift over the cycles of a run. Values in the measure's base unit.
 *
 * @param kind which shifts
 * @param series what was looked at
 * @param line intercept and median slope: value = at + slope · cycle
 * @param band how well the line is known; empty where the cycles are too few
 * @param drift change over the run with its interval and the trend's p for this group alone
 * @param trendP p of the trend with regard to all looks of the analysis (Holm)
 * @param change largest step of level for this group alone, significant or not
 * @param changeP p of the step with regard to all looks of the analysis (Holm)
 * @param phi how far values follow their predecessors, as used
 * @param weightedSignal first cycle at which the chart of weighted means leaves its limits
 * @param sumSignal first cycle at which the chart of cumulative sums leaves its limit
 * @param shape what was found
 */
public record DriftGroup(
        Kind kind,
        CycleSeries series,
        Line line,
        Optional<LineBand> band,
        TrendStatistics.Drift drift,
        double trendP,
        TrendStatistics.Change change,
        double changeP,
        double phi,
        OptionalInt weightedSignal,
        OptionalInt sumSignal,
        Shape shape) {

    /**
     * The shifts of a group: all of one measure, pair and supply.
     *
     * @param supplyV supply set by the procedure, where known
     */
    public record Kind(Measure measure, int from, int to, OptionalDouble supplyV) {}

    /** A straight line over cycles. */
    public record Line(double at, double slope) {
        public double value(double cycle) {
            return at + slope * cycle;
        }
    }

    /** What happens over the cycles. */
    public enum Shape {
        /** Neither trend nor step is significant. */
        LEVEL("level"),
        /** Significant; a line leaves less than a step does. */
        DRIFT("drift"),
        /** Significant; a step leaves less than a line does. */
        STEP("step");

        private final String word;

        Shape(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    public boolean significant() {
        return shape != Shape.LEVEL;
    }

    /** The change that was found: of a step its size, else the median slope × cycles spanned. */
    public double size() {
        return shape == Shape.STEP ? change.step() : drift.change();
    }
}
