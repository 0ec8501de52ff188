package org.shiftstand.reference;

import java.util.List;
import org.shiftstand.stats.BrownForsythe;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** Ten batches of ten gear diameters. */
final class ScatterOfBatches implements Published {
    @Override
    public Source source() {
        return new Source("REF-LEV-01", "NIST/SEMATECH e-Handbook 1.3.5.10, GEAR.DAT", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode expected = Reference.json("reference/stats/gear_expected.json");
        List<Sample> batches = VarianceCertified.groups(Reference.csv("reference/stats/gear_dat.csv"));
        BrownForsythe ours = BrownForsythe.of(batches);
        comparisons.figure("W, as printed", expected.get("published_W").asDouble(), ours.w(), 1e-5);
        comparisons.computed("W", expected.get("brown_forsythe_W").asDouble(), ours.w(), 1e-9);
        comparisons.computed("p", expected.get("p").asDouble(), ours.pValue(), 1e-9);
        comparisons.count("freedom between", expected.get("df").get(0).asInt(), ours.betweenFreedom());
        comparisons.count("freedom within", expected.get("df").get(1).asInt(), ours.withinFreedom());
        for (int i = 0; i < batches.size(); i++) {
            Sample batch = batches.get(i);
            comparisons.computed(
                    "batch " + (i + 1) + ", mean",
                    expected.get("group_means").get(i).asDouble(),
                    batch.mean().orElseThrow(),
                    1e-9);
            comparisons.computed(
                    "batch " + (i + 1) + ", sd",
                    expected.get("group_sd").get(i).asDouble(),
                    batch.standardDeviation().orElseThrow(),
                    1e-9);
        }
    }
}
