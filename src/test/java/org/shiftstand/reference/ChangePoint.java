package org.shiftstand.reference;

import org.shiftstand.stats.Pettitt;
import tools.jackson.databind.JsonNode;

/** Pettitt's own example of one change. */
final class ChangePoint implements Published {
    @Override
    public Source source() {
        return new Source("REF-CHG-01", "A. N. Pettitt, J. R. Stat. Soc. C 28, 126-135, 1979, table 1", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/trend_pettitt.json");
        JsonNode published = file.get("published");
        Pettitt test = Pettitt.of(Reference.numbers(file.get("series")));

        comparisons.computed("K", published.get("K").asDouble(), test.k(), 1e-9);
        comparisons.count(
                "change after value", published.get("change_after_index").asLong(), test.after());
        comparisons.figure("p, printed", published.get("p").asDouble(), test.p(), 5e-5);
        comparisons.computed("p", file.get("computed").get("p_two_sided_approx").asDouble(), test.p(), 1e-9);
        comparisons.computed(
                "sign of the largest sum", file.get("computed").get("sign").asDouble(), test.rises() ? -1 : 1, 1e-9);
    }
}
