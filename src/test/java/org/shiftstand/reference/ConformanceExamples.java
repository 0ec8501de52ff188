package org.shiftstand.reference;

import org.shiftstand.stats.Conformance;
import tools.jackson.databind.JsonNode;

/** Conformance probabilities, guard bands and the table of factors. */
final class ConformanceExamples implements Published {
    @Override
    public Source source() {
        return new Source("REF-CONF-01", "JCGM 106:2012, clauses 7 and 8", "VERIFIED, inputs of the examples RECALL");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/jcgm106.json");
        JsonNode one = file.get("one_sided_upper");
        double diode = Conformance.normal(
                        Double.NEGATIVE_INFINITY,
                        one.get("upper_limit").asDouble(),
                        one.get("u").asDouble())
                .probability(one.get("estimate").asDouble());
        comparisons.computed(
                "breakdown voltage", one.get("conformance_probability").asDouble(), diode, 1e-9);
        comparisons.figure("breakdown voltage, as printed", one.get("published").asDouble(), diode, 0.005);

        JsonNode two = file.get("two_sided");
        double oil = Conformance.normal(
                        two.get("lower").asDouble(),
                        two.get("upper").asDouble(),
                        two.get("u").asDouble())
                .probability(two.get("estimate").asDouble());
        comparisons.computed("oil grade", two.get("conformance_probability").asDouble(), oil, 1e-9);
        comparisons.figure("oil grade, as printed", two.get("published").asDouble(), oil, 0.005);

        Conformance unit = Conformance.normal(Double.NEGATIVE_INFINITY, 0, 1);
        file.get("table_1_z_for_one_sided").properties().forEach(row -> {
            double z = unit.guardBand(1 - Double.parseDouble(row.getKey())).orElse(Double.NaN);
            comparisons.computed("factor for " + row.getKey(), row.getValue().asDouble(), z, 1e-9);
            comparisons.figure(
                    "factor for " + row.getKey() + ", as printed",
                    file.get("table_1_published")
                            .get(
                                    row.getKey().substring(1).length() == 2
                                            ? row.getKey().substring(1) + "0"
                                            : row.getKey().substring(1))
                            .asDouble(),
                    z,
                    0.005);
        });
        for (JsonNode row : file.get("guard_bands")) {
            Conformance upper = Conformance.normal(
                    Double.NEGATIVE_INFINITY,
                    row.get("T").asDouble(),
                    row.get("u").asDouble());
            comparisons.computed(
                    "conformance at the acceptance limit, " + row.get("rule").asString(),
                    row.get("min_conformance_probability_at_A").asDouble(),
                    upper.probability(row.get("A").asDouble()),
                    1e-9);
        }
    }
}
