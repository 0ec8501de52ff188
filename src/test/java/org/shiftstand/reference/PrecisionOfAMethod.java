package org.shiftstand.reference;

import java.util.ArrayList;
import java.util.List;
import org.shiftstand.stats.Precision;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** Limits of a cross-test between laboratories, and a worked example of five groups. */
final class PrecisionOfAMethod implements Published {
    @Override
    public Source source() {
        return new Source("REF-PREC-01", "ISO 5725-2; a public cross-test of total sulfur", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode json = Reference.json("reference/stats/iso5725.json");
        for (JsonNode level : json.get("published")) {
            String of = "mean " + level.get("mean").asDouble();
            double rounding = 0.0005 * Precision.FACTOR + 0.0005; // of the printed s, and of the printed limit
            comparisons.figure(
                    of + ", r",
                    level.get("r").asDouble(),
                    Precision.limit(level.get("s_r").asDouble()),
                    rounding);
            comparisons.figure(
                    of + ", R",
                    level.get("R").asDouble(),
                    Precision.limit(level.get("s_R").asDouble()),
                    rounding);
        }
        JsonNode worked = json.get("worked");
        List<Sample> groups = new ArrayList<>();
        worked.get("data").forEach(group -> groups.add(Sample.of(Reference.numbers(group))));
        Precision ours = Precision.of(groups);
        comparisons.computed("five groups, mean", worked.get("grand_mean").asDouble(), ours.mean(), 1e-9);
        comparisons.computed("five groups, s_r", worked.get("s_r").asDouble(), ours.repeatabilitySd(), 1e-9);
        comparisons.computed("five groups, s_L", worked.get("s_L").asDouble(), ours.betweenSd(), 1e-9);
        comparisons.computed("five groups, s_R", worked.get("s_R").asDouble(), ours.reproducibilitySd(), 1e-9);
        comparisons.computed("five groups, r", worked.get("r_2_8").asDouble(), ours.repeatabilityLimit(), 1e-9);
        comparisons.computed("five groups, R", worked.get("R_2_8").asDouble(), ours.reproducibilityLimit(), 1e-9);
    }
}
