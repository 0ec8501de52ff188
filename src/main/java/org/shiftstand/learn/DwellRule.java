package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.shiftstand.shift.Measure;
import org.shiftstand.stats.Holm;
import org.shiftstand.stats.Sample;

/** Whether all rows dwell alike. */
final class DwellRule {
    /** Rows within this of their mean dwell alike: no rider tells them apart; common practice, no published source. */
    private static final double ALIKE_S = 0.010;

    private DwellRule() {}

    static Dwell of(
            Measure measure,
            double withinDeg,
            List<LearnedStep> rows,
            Estimated overall,
            double intervalS,
            double alpha) {
        double tolerance = Math.max(ALIKE_S, 4 * intervalS);
        Optional<Estimated.Estimate> all = overall.estimate();
        List<LearnedStep> known = rows.stream()
                .filter(row -> row.get(measure).estimate().isPresent())
                .toList();
        if (all.isEmpty() || known.isEmpty()) {
            return new Dwell(withinDeg, overall, Dwell.Common.NOT_DECIDED, tolerance, List.of());
        }
        double centre = median(known, measure);
        double[] p = new double[known.size()];
        boolean inside = true;
        for (int i = 0; i < p.length; i++) {
            Estimated.Estimate row = known.get(i).get(measure).estimate().orElseThrow();
            double off = Math.abs(row.mean() - centre);
            inside &= off + row.halfWidth() <= tolerance;
            p[i] = Double.isInfinite(row.halfWidth()) ? 1 : beyond(off - tolerance, row.halfWidth(), alpha);
        }
        double[] adjusted = Holm.adjusted(p);
        List<String> apart = new ArrayList<>();
        for (int i = 0; i < p.length; i++) {
            if (adjusted[i] < alpha) {
                apart.add(known.get(i).name());
            }
        }
        Dwell.Common common =
                !apart.isEmpty() ? Dwell.Common.DIFFERENT : inside ? Dwell.Common.COMMON : Dwell.Common.NOT_DECIDED;
        return new Dwell(withinDeg, overall, common, tolerance, apart);
    }

    /** Median of the rows: one row apart must not make the others look so. */
    private static double median(List<LearnedStep> rows, Measure measure) {
        return Sample.of(rows.stream()
                        .mapToDouble(
                                row -> row.get(measure).estimate().orElseThrow().mean())
                        .toArray())
                .median()
                .orElseThrow();
    }

    /** One-sided probability that a row no farther than the tolerance shows so much more; from its interval. */
    private static double beyond(double excess, double halfWidth, double alpha) {
        if (excess <= 0) {
            return 1;
        }
        if (halfWidth == 0) {
            return 0;
        }
        NormalDistribution normal = new NormalDistribution(null, 0, 1);
        double error = halfWidth / normal.inverseCumulativeProbability(1 - alpha / 2);
        return 1 - normal.cumulativeProbability(excess / error);
    }
}
