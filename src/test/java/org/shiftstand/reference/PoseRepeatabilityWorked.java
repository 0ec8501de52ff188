package org.shiftstand.reference;

import org.shiftstand.stats.PoseRepeatability;
import tools.jackson.databind.JsonNode;

/** Points in a plane, on one axis, and thirty in space. */
final class PoseRepeatabilityWorked implements Published {
    @Override
    public Source source() {
        return new Source("REF-REPT-01, -02", "ISO 9283:1998, 7.2.2", "definition RECALL, values COMPUTED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode worked = Reference.json("reference/stats/iso9283.json");
        for (String name : new String[] {"case_1", "case_2"}) {
            JsonNode expected = worked.get(name).get("expected");
            figures(comparisons, name.replace('_', ' '), worked.get(name).get("points"), expected);
        }
        JsonNode more = Reference.json("reference/stats/iso9283_more.json");
        figures(comparisons, "thirty points", more.get("points"), more.get("expected"));
    }

    private static void figures(Comparisons comparisons, String of, JsonNode points, JsonNode expected) {
        double[][] attained = new double[points.size()][];
        for (int i = 0; i < attained.length; i++) {
            attained[i] = Reference.numbers(points.get(i));
        }
        PoseRepeatability ours = PoseRepeatability.of(attained);
        comparisons.computed(of + ", l̄", expected.get("mean_distance").asDouble(), ours.meanDistance(), 1e-9);
        comparisons.computed(of + ", s", expected.get("s_distance").asDouble(), ours.sdDistance(), 1e-9);
        comparisons.computed(of + ", RP", expected.get("RP").asDouble(), ours.repeatability(), 1e-9);
    }
}
