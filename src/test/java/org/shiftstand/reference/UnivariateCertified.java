package org.shiftstand.reference;

import org.shiftstand.stats.Sample;

/** Certified summaries of single columns. */
final class UnivariateCertified implements Published {
    @Override
    public Source source() {
        return new Source("REF-STRD-UNI", "NIST Statistical Reference Datasets, univariate summary", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Sample numAcc1 =
                Sample.of(Reference.csv("reference/stats/strd_numacc1.csv").column("y"));
        comparisons.figure("NumAcc1, standard deviation", 1, numAcc1.standardDeviation(), 1e-12);
    }
}
