package org.shiftstand.reference;

import java.util.List;
import org.shiftstand.stats.ConfidenceLimits;
import org.shiftstand.stats.ConfidenceLimits.Limits;

/** Intervals of a proportion, two-sided 95 %. */
final class ProportionIntervals implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-BIN-01",
                "Newcombe, Statistics in Medicine 17:857-872, 1998, table I",
                "VERIFIED; exact limits RECALL");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Reference table = Reference.csv("reference/stats/binomial_newcombe.csv");
        for (int i = 0; i < table.size(); i++) {
            int hits = (int) table.column("events")[i];
            int n = (int) table.column("n")[i];
            String of = hits + " of " + n + ", ";
            Limits wilson = ConfidenceLimits.wilson(hits, n, 0.975);
            Limits exact = ConfidenceLimits.proportion(hits, n, 0.975);
            double digit = 0.5e-8 + 1e-12; // eight decimals
            comparisons.figure(of + "Wilson, low", table.column("wilson_low")[i], wilson.low(), digit);
            comparisons.figure(of + "Wilson, high", table.column("wilson_high")[i], wilson.high(), digit);
            comparisons.figure(of + "exact, low", table.column("clopper_pearson_low")[i], exact.low(), digit);
            comparisons.figure(of + "exact, high", table.column("clopper_pearson_high")[i], exact.high(), digit);
            printed(comparisons, of + "Wilson, low, as printed", table.words("printed_wilson_low"), i, wilson.low());
            printed(comparisons, of + "Wilson, high, as printed", table.words("printed_wilson_high"), i, wilson.high());
            printed(comparisons, of + "exact, low, as printed", table.words("printed_cp_low"), i, exact.low());
            printed(comparisons, of + "exact, high, as printed", table.words("printed_cp_high"), i, exact.high());
        }
    }

    private static void printed(Comparisons comparisons, String what, List<String> column, int i, double ours) {
        if (!column.get(i).isEmpty()) {
            comparisons.figure(what, Double.parseDouble(column.get(i)), ours, 0.5e-4 + 1e-12);
        }
    }
}
