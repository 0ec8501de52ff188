package org.shiftstand.reference;

import org.shiftstand.stats.MannKendall;
import org.shiftstand.stats.TheilSen;
import tools.jackson.databind.JsonNode;

/** A Mann–Kendall test worked by hand, with one tie. */
final class MonotoneTrend implements Published {
    @Override
    public Source source() {
        return new Source("REF-TREND-01", "J. Little, College of the Holy Cross, Mann-Kendall by hand", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/trend_mann_kendall.json");
        JsonNode published = file.get("published");
        JsonNode computed = file.get("computed");
        double[] series = Reference.numbers(file.get("series"));

        MannKendall test = MannKendall.of(series);
        double[] steps = new double[series.length];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = i;
        }
        TheilSen line = TheilSen.of(steps, series).orElseThrow();

        comparisons.count("S", published.get("S").asLong(), test.s());
        comparisons.figure("z, printed", published.get("Z").asDouble(), test.z(), 5e-5);
        comparisons.figure("p one-sided, printed", published.get("p_one_sided").asDouble(), test.p() / 2, 5e-5);
        comparisons.computed("variance of S", computed.get("var_S").asDouble(), test.variance(), 1e-9);
        comparisons.computed("z", computed.get("Z").asDouble(), test.z(), 1e-9);
        comparisons.computed("p two-sided", computed.get("p_two_sided").asDouble(), test.p(), 1e-9);
        comparisons.computed("tau-b", computed.get("tau_b").asDouble(), test.tau(), 1e-9);
        comparisons.computed(
                "median slope a step", computed.get("sen_slope_per_step").asDouble(), line.slope(), 1e-9);
    }
}
