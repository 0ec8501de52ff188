package org.shiftstand.reference;

import org.shiftstand.stats.TheilSen;
import tools.jackson.databind.JsonNode;

/** A median slope where abscissas repeat. */
final class MedianSlopeWithTies implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-TREND-04",
                "method of Hollander and Wolfe, example of a public package's documentation",
                "VERIFIED slope");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/trend_theil_sen_ties.json");
        JsonNode published = file.get("published");
        TheilSen line = TheilSen.of(Reference.numbers(file.get("x")), Reference.numbers(file.get("y")))
                .orElseThrow();
        TheilSen.Limits limits = line.limits(0.95).orElseThrow();
        double[] interval = Reference.numbers(published.get("ci95"));

        comparisons.computed("slope", published.get("slope").asDouble(), line.slope(), 1e-9);
        comparisons.figure("95 % interval, low", interval[0], limits.low(), 5e-8);
        comparisons.figure("95 % interval, high", interval[1], limits.high(), 5e-8);
    }
}
