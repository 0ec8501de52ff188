package org.shiftstand.reference;

import org.shiftstand.stats.Autocorrelation;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** Certified summaries of single columns: Lew, Lottery, NumAcc1, NumAcc3. */
final class UnivariateCertified implements Published {
    @Override
    public Source source() {
        return new Source("REF-STRD-UNI", "NIST Statistical Reference Datasets, univariate summary", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        for (JsonNode set :
                Reference.json("reference/stats/strd_univariate_expected.json").get("sets")) {
            double[] y = Reference.csv("reference/stats/" + set.get("data").asString())
                    .column("y");
            Sample sample = Sample.of(y);
            String name = set.get("name").asString();
            JsonNode certified = set.get("certified");
            comparisons.count(name + ", values", set.get("n").asInt(), sample.count());
            figure(
                    comparisons,
                    name + ", mean",
                    certified.get("mean"),
                    sample.mean().orElseThrow());
            figure(
                    comparisons,
                    name + ", standard deviation",
                    certified.get("sd"),
                    sample.standardDeviation().orElseThrow());
            figure(
                    comparisons,
                    name + ", lag-1 autocorrelation",
                    certified.get("lag1_autocorrelation"),
                    Autocorrelation.of(y, 1).orElseThrow());
        }
    }

    /** Nine digits: the decimals of the data are not exact in binary, and 3.5e-10 of NumAcc3 is left by any sum of doubles. */
    private static void figure(Comparisons comparisons, String what, JsonNode certified, double ours) {
        comparisons.computed(what, Double.parseDouble(certified.asString()), ours, 1e-9);
    }
}
