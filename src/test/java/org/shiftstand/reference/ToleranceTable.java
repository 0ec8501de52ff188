package org.shiftstand.reference;

import org.shiftstand.stats.ToleranceFactor;

/** Factors for n from 5 to 100, and two-sided ones as a handbook prints them. */
final class ToleranceTable implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-TOL-02",
                "tolerance factors; Berthouex and Brown, Statistics for Environmental Engineers, table 21.1",
                "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        Reference table = Reference.csv("reference/stats/tol_k_table.csv");
        double[] n = table.column("n");
        double[] coverage = table.column("coverage");
        double[] confidence = table.column("confidence");
        double[] exact = table.column("k2_exact");
        double[] howe = table.column("k2_howe");
        double[] oneSided = table.column("k1_noncentral_t");
        var natrella = table.words("k1_natrella");
        Farthest worst = new Farthest();
        for (int i = 0; i < table.size(); i++) {
            int size = (int) n[i];
            String of = "n " + size + ", " + coverage[i] + ", " + confidence[i];
            worst.next("two-sided, exact", of, exact[i], ToleranceFactor.twoSided(size, coverage[i], confidence[i]));
            worst.next("two-sided, Howe", of, howe[i], ToleranceFactor.howe(size, coverage[i], confidence[i]));
            worst.next("one-sided, exact", of, oneSided[i], ToleranceFactor.oneSided(size, coverage[i], confidence[i]));
            if (!natrella.get(i).isEmpty()) {
                worst.next(
                        "one-sided, Natrella",
                        of,
                        Double.parseDouble(natrella.get(i)),
                        ToleranceFactor.natrella(size, coverage[i], confidence[i]));
            }
        }
        worst.into(comparisons, 0.5e-8); // the table has eight decimals
        Reference printed = Reference.csv("reference/stats/tol_k_printed_check.csv");
        for (int i = 0; i < printed.size(); i++) {
            int size = (int) printed.column("n")[i];
            double share = printed.column("coverage")[i];
            double sure = printed.column("confidence")[i];
            comparisons.figure(
                    "printed, n " + size + ", " + share + ", " + sure,
                    printed.column("k2_printed")[i],
                    ToleranceFactor.twoSided(size, share, sure),
                    0.005 + 1e-9);
        }
    }
}
