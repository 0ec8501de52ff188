package org.shiftstand.spec;

import java.util.OptionalDouble;
import org.shiftstand.stats.Sample;

/**
 * How errors of measurement of single shifts reach the statistic of a group.
 *
 * @param each factor on errors that are independent from shift to shift
 * @param common factor on an error that all shifts of the run share
 * @param scale factor on a relative error that all share, in the statistic's unit
 */
record Sensitivity(double each, double common, double scale) {
    /** Of outcomes and counts: no quantity is measured. */
    static final Sensitivity NONE = new Sensitivity(0, 0, 0);

    /** Of a median against a mean of normal values, large n: root of π/2. */
    private static final double MEDIAN_OVER_MEAN = Math.sqrt(Math.PI / 2);

    /**
     * Of one statistic.
     *
     * @param value the statistic
     * @param each standard uncertainty of one shift from errors independent from shift to shift, in the measure's unit
     */
    static Sensitivity of(Clause clause, GroupValues values, double value, double each) {
        double n = Math.max(1, values.n());
        double relative = Math.abs(value);
        return switch (clause.statistic().kind()) {
            case EVERY, MINIMUM, MAXIMUM, PERCENTILE -> new Sensitivity(1, 1, relative);
            case MEAN -> new Sensitivity(1 / Math.sqrt(n), 1, relative);
            case MEDIAN -> new Sensitivity(Math.min(1, MEDIAN_OVER_MEAN / Math.sqrt(n)), 1, relative);
            case STANDARD_DEVIATION -> new Sensitivity(ofSpread(value, n - 1, each), 0, relative);
            case POOLED_STANDARD_DEVIATION ->
                new Sensitivity(ofSpread(value, n - values.natural().size(), each), 0, relative);
            case RANGE -> new Sensitivity(Math.sqrt(2), 0, relative);
            case COUNT, PROPORTION, FIRST_FAILURE, EQUIVALENT_TO -> NONE;
            case TOLERANCE_INTERVAL -> ofToleranceEnd(clause, values, value, each);
            case CAPABILITY -> new NormalTheory(clause).sensitivityOfCapability(values, value, each);
            case REPEATABILITY -> ofRepeatability(values, value, each);
            case REVERSAL -> new Sensitivity(ofDifference(values), 0, relative);
            // a straight line through n values in equal steps: sd of its slope times n steps
            case DRIFT -> new Sensitivity(Math.sqrt(12 / n), 0, relative);
            // two medians of at least a quarter of the values each
            case CHANGE_POINT -> new Sensitivity(MEDIAN_OVER_MEAN * Math.sqrt(16 / (3 * n)), 0, relative);
        };
    }

    /**
     * Of a standard deviation s of true values, seen with errors of standard uncertainty e: the errors scatter it by e/√ν and
     * raise it by about e²/2s, which is counted as uncertainty, not taken off. Never more than e itself.
     */
    static double ofSpread(double s, double freedom, double each) {
        double raised = s > 0 ? each / (2 * s) : 1;
        return Math.min(1, Math.sqrt(1 / Math.max(1, freedom) + raised * raised));
    }

    private static Sensitivity ofToleranceEnd(Clause clause, GroupValues values, double value, double each) {
        OptionalDouble mean = values.sample().mean();
        OptionalDouble sd = values.sample().standardDeviation();
        if (mean.isEmpty() || sd.isEmpty() || sd.getAsDouble() == 0) {
            return new Sensitivity(1, 1, Math.abs(value));
        }
        double n = values.n();
        double factor = Math.abs(value - mean.getAsDouble()) / sd.getAsDouble();
        double spread = factor * ofSpread(sd.getAsDouble(), n - 1, each);
        return new Sensitivity(Math.hypot(1 / Math.sqrt(n), spread), 1, Math.abs(value));
    }

    /** Four times that of a standard deviation, of the direction with fewest values, and of the two means between them. */
    private static Sensitivity ofRepeatability(GroupValues values, double value, double each) {
        double spread = 0;
        for (GroupValues.Natural group : values.natural()) {
            OptionalDouble s = group.sample().standardDeviation();
            if (s.isPresent()) {
                spread = Math.max(spread, ofSpread(s.getAsDouble(), group.values().length - 1, each));
            }
        }
        return new Sensitivity(Math.hypot(4 * spread, ofDifference(values)), 0, Math.abs(value));
    }

    /** Of the difference of two means, of the sprocket with fewest values. */
    private static double ofDifference(GroupValues values) {
        return Positions.bySprocket(values.natural()).stream()
                .mapToDouble(of -> Math.sqrt(share(of.forward()) + share(of.backward())))
                .max()
                .orElse(0);
    }

    private static double share(Sample sample) {
        return sample.count() == 0 ? 0 : 1.0 / sample.count();
    }
}
