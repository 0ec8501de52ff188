package org.shiftstand.reference;

import org.shiftstand.stats.TheilSen;
import tools.jackson.databind.JsonNode;

/** Sen's own example, with the interval that its rule gives; the printed one has slips in the list of slopes. */
final class MedianSlope implements Published {
    @Override
    public Source source() {
        return new Source("REF-TREND-03", "P. K. Sen, J. Am. Stat. Assoc. 63, 1379-1389, 1968, example", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/trend_theil_sen.json");
        TheilSen line = TheilSen.of(Reference.numbers(file.get("t")), Reference.numbers(file.get("y")))
                .orElseThrow();
        TheilSen.Limits limits = line.limits(0.93).orElseThrow();
        double[] interval = Reference.numbers(file.get("interval_93_percent"));

        comparisons.computed("slope", file.get("slope").asDouble(), line.slope(), 1e-9);
        comparisons.computed(
                "intercept, median of y - slope t",
                file.get("intercept_median_residual").asDouble(),
                line.intercept(),
                1e-9);
        comparisons.computed("intercept, through the medians", 4, line.interceptOfMedians(), 1e-9);
        comparisons.computed("93 % interval, low", interval[0], limits.low(), 1e-9);
        comparisons.computed("93 % interval, high", interval[1], limits.high(), 1e-9);
    }
}
