package org.shiftstand.reference;

import org.shiftstand.stats.Cusum;

/** The handbook's tabular chart of cumulative sums. */
final class StepChart implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-CUSUM-01",
                "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3",
                "VERIFIED recursion, RECALL data");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Reference file = Reference.csv("reference/stats/cusum_nist.csv");
        double[] printedHigh = file.column("s_hi_printed");
        double[] printedLow = file.column("s_lo_printed");
        double[] high = file.column("s_hi");
        double[] low = file.column("s_lo");

        Cusum chart = Cusum.of(file.column("x"), 325, 0.3175, 4.1959);

        for (int i = 0; i < high.length; i++) {
            int group = i + 1;
            comparisons.figure("sum upwards " + group + ", printed", printedHigh[i], chart.high()[i], 6e-3);
            comparisons.figure("sum downwards " + group + ", printed", printedLow[i], chart.low()[i], 6e-3);
            comparisons.figure("sum upwards " + group, high[i], chart.high()[i], 5e-7);
            comparisons.figure("sum downwards " + group, low[i], chart.low()[i], 5e-7);
        }
        comparisons.count("first signal at group", 14, chart.firstOutside().orElse(-1) + 1L);
    }
}
