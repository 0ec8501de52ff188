package org.shiftstand.spec;

import java.util.List;
import org.shiftstand.bench.Budget;
import org.shiftstand.bench.Contribution;
import org.shiftstand.stats.Gum;

/**
 * The uncertainty of measurement of a group's statistic: the budget of single shifts, carried over by {@link Sensitivity}
 * (JCGM 100:2008, 5.1.2; effective degrees of freedom by Welch and Satterthwaite, G.4.1).
 *
 * @param standard standard uncertainty, in the statistic's unit; at least 0
 * @param degreesOfFreedom may be infinite
 */
record MeasuringUncertainty(double standard, double degreesOfFreedom) {
    static final MeasuringUncertainty NONE = new MeasuringUncertainty(0, Double.POSITIVE_INFINITY);

    static MeasuringUncertainty of(Clause clause, GroupValues values, double value, Budget budget) {
        double each = each(budget);
        Sensitivity sensitivity = Sensitivity.of(clause, values, value, each);
        return of(budget.contributions(), sensitivity);
    }

    /** Only what all shifts of the run share: the scatter of the values shows the rest. */
    static MeasuringUncertainty shared(Clause clause, GroupValues values, double value, Budget budget) {
        Sensitivity all = Sensitivity.of(clause, values, value, each(budget));
        return of(budget.contributions(), new Sensitivity(0, all.common(), all.scale()));
    }

    /** Half of a one-sided interval at this confidence. */
    double oneSided(double confidence) {
        return standard == 0 ? 0 : Math.abs(Gum.quantile(degreesOfFreedom, confidence)) * standard;
    }

    /** Of one shift at the limits it is held against, whose value is taken for the relative part. */
    static MeasuringUncertainty ofOneShift(Bound limits, Budget budget) {
        double largest = Math.max(
                limits.atLeast().isPresent() ? Math.abs(limits.low()) : 0,
                limits.atMost().isPresent() ? Math.abs(limits.high()) : 0);
        return of(budget.contributions(), new Sensitivity(1, 1, largest));
    }

    private static MeasuringUncertainty of(List<Contribution> contributions, Sensitivity sensitivity) {
        double variance = 0;
        double overFreedom = 0;
        for (Contribution contribution : contributions) {
            double factor = switch (contribution.nature()) {
                case EACH -> sensitivity.each();
                case COMMON -> sensitivity.common();
                case SCALE -> sensitivity.scale();
            };
            double u = factor * contribution.standardUncertainty();
            variance += u * u;
            overFreedom += u * u * u * u / contribution.degreesOfFreedom();
        }
        return new MeasuringUncertainty(
                Math.sqrt(variance), overFreedom > 0 ? variance * variance / overFreedom : Double.POSITIVE_INFINITY);
    }

    /** Of one shift, from errors that are independent from shift to shift. */
    static double each(Budget budget) {
        return Math.sqrt(budget.contributions().stream()
                .filter(contribution -> contribution.nature() == Contribution.Nature.EACH)
                .mapToDouble(contribution -> contribution.standardUncertainty() * contribution.standardUncertainty())
                .sum());
    }
}
