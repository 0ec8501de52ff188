package org.shiftstand.report;

import org.shiftstand.planning.OperatingCurve;
import org.shiftstand.planning.Worsening;
import org.shiftstand.spec.Clause;

/** How a unit gets worse, in plain words. */
final class WorseningWords {
    private WorseningWords() {}

    /** What the quality of a curve is: {@code hold, less by}. */
    static String axis(Clause clause, OperatingCurve curve) {
        String measure = Words.spaced(clause.measureKey());
        return switch (curve.worsening()) {
            case BIAS -> measure + (curve.sign() > 0 ? ", more by" : ", less by");
            case SPREAD -> measure + ", standard deviation";
            case REVERSAL -> measure + ", inboard and outboard apart by";
            case DRIFT -> measure + (curve.sign() > 0 ? ", grows over the run by" : ", falls over the run by");
            case STEP -> measure + ", jumps in mid-run by";
            case SHARE -> "shifts that go wrong";
        };
    }

    /** What a bad unit is: {@code 80.5 deg more}. */
    static String quality(OperatingCurve curve, double quality) {
        String figure = figure(curve, quality);
        return switch (curve.worsening()) {
            case BIAS -> figure + (curve.sign() > 0 ? " more" : " less");
            case SPREAD -> "standard deviation " + figure;
            case REVERSAL -> figure + " apart";
            case DRIFT, STEP -> figure + (curve.sign() > 0 ? " more in the end" : " less in the end");
            case SHARE -> figure + " of its shifts go wrong";
        };
    }

    /** A quality with its unit; never so coarse that two of a curve read alike. */
    static String figure(OperatingCurve curve, double quality) {
        double last = curve.points().get(curve.points().size() - 1).quality();
        double step = (last - curve.points().get(0).quality()) / curve.points().size();
        int leading = (int) Math.floor(Math.log10(Math.max(step, 1e-12)));
        int usual = Figures.decimals(curve.unit());
        int decimals = curve.worsening() == Worsening.SHARE
                ? Math.max(0, Math.min(4, 1 - leading))
                : Math.min(usual, Math.max(0, 1 - leading));
        return Figures.of(quality, curve.unit(), decimals);
    }
}
