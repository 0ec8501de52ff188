package org.shiftstand.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.Budget;
import org.shiftstand.bench.Budgets;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Measure;
import org.shiftstand.stats.Sample;

/** The uncertainty of one shift's value, measure by measure, at the usual value of the run. */
final class StatedUncertainty {
    /** Level at which expanded uncertainties are printed, whatever decisions use. */
    static final double CONFIDENCE = 0.95;

    private StatedUncertainty() {}

    /**
     * One measure.
     *
     * @param at median of the measured values without their signs, base unit: what shares of a value are taken of
     */
    record Line(Measure measure, double at, Budget.Combined combined, Budget.Expanded expanded) {}

    /** In the order of the measures, those with a budget and a measured value; empty without budgets. */
    static List<Line> of(Judgement judgement) {
        Optional<Budgets> budgets = judgement.budgets();
        List<Line> lines = new ArrayList<>();
        for (Measure measure : Measure.values()) {
            Optional<Budget> budget = budgets.flatMap(b -> b.of(measure.key()));
            OptionalDouble at = usual(judgement, measure);
            if (budget.isPresent() && at.isPresent()) {
                Budget.Combined combined = budget.get().combined(at.getAsDouble());
                lines.add(new Line(measure, at.getAsDouble(), combined, combined.expanded(CONFIDENCE)));
            }
        }
        return lines;
    }

    private static OptionalDouble usual(Judgement judgement, Measure measure) {
        double[] values = judgement.table().shifts().stream()
                .map(shift -> shift.get(measure).number())
                .filter(OptionalDouble::isPresent)
                .mapToDouble(number -> Math.abs(number.getAsDouble()))
                .toArray();
        return Sample.of(values).median();
    }
}
