package org.shiftstand.reference;

import java.util.List;
import org.shiftstand.stats.Ewma;

/** The handbook's chart of exponentially weighted means, with limits of each place. */
final class SlowDriftChart implements Published {
    @Override
    public Source source() {
        return new Source("REF-EWMA-01", "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Reference file = Reference.csv("reference/stats/ewma_nist.csv");
        List<String> texts = file.words("x");
        double[] values =
                texts.stream().skip(1).mapToDouble(Double::parseDouble).toArray();
        double[] printed = file.column("ewma_printed");
        double[] exact = file.column("ewma_exact");
        List<String> upper = file.words("ucl_at_t");

        Ewma chart = Ewma.of(values, 50, 2.0539, 0.3, 3);
        double[] means = chart.means();

        for (int t = 1; t <= means.length; t++) {
            comparisons.figure("mean " + t + ", printed", printed[t], means[t - 1], 5.000001e-3);
            comparisons.computed("mean " + t, exact[t], means[t - 1], 1e-9);
            comparisons.figure(
                    "upper limit " + t, Double.parseDouble(upper.get(t)), 50 + chart.reachAfter(t), 5.000001e-9);
        }
        comparisons.figure("upper limit, page rounds its factor", 52.5884, 50 + chart.reach(), 1e-4);
        comparisons.figure("lower limit, page rounds its factor", 47.4115, 50 - chart.reach(), 1e-4);
        comparisons.figure("upper limit, exact", 52.588432, 50 + chart.reach(), 5e-7);
        comparisons.figure("lower limit, exact", 47.411568, 50 - chart.reach(), 5e-7);
        comparisons.word("first outside", "none", chart.firstOutside().isPresent() ? "some" : "none");
    }
}
