package org.shiftstand.reference;

import org.shiftstand.stats.ProofOfConformity;
import tools.jackson.databind.JsonNode;

/** Verdicts of the default decision rules. */
final class DecisionCases implements Published {
    @Override
    public Source source() {
        return new Source("REF-DEC-01", "ISO 14253-1, default decision rules", "VERIFIED, verdicts COMPUTED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        for (JsonNode row :
                Reference.json("reference/stats/iso14253_decisions.json").get("cases")) {
            double lower = row.get("lower").asDouble();
            double upper = row.get("upper").asDouble();
            double expanded = row.get("U").asDouble();
            double result = row.get("result").asDouble();
            comparisons.word(
                    row.get("result").asString() + " within " + row.get("lower").asString() + "…"
                            + row.get("upper").asString() + ", U "
                            + row.get("U").asString(),
                    row.get("verdict").asString(),
                    ProofOfConformity.of(result, expanded, lower, upper).words());
        }
    }
}
