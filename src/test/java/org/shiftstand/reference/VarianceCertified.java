package org.shiftstand.reference;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.shiftstand.stats.OneWayAnova;
import org.shiftstand.stats.Sample;
import tools.jackson.databind.JsonNode;

/** Certified analyses of variance: AtmWtAg, whose values agree in six digits, and SiRstv. */
final class VarianceCertified implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-STRD-AOV", "NIST Statistical Reference Datasets, one-way analysis of variance", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        compare(comparisons, "atmwtag");
        compare(comparisons, "sirstv");
    }

    private static void compare(Comparisons comparisons, String name) {
        JsonNode expected = Reference.json("reference/stats/strd_" + name + "_expected.json");
        JsonNode certified = expected.get("certified");
        OneWayAnova ours = OneWayAnova.of(groups(Reference.csv("reference/stats/strd_" + name + ".csv")));
        figure(comparisons, name + ", between", certified.get("ss_between"), ours.between());
        figure(comparisons, name + ", within", certified.get("ss_within"), ours.within());
        figure(comparisons, name + ", F", certified.get("F"), ours.f());
        figure(comparisons, name + ", R²", certified.get("r_squared"), ours.rSquared());
        figure(comparisons, name + ", residual sd", certified.get("residual_sd"), ours.residualSd());
        comparisons.computed(name + ", p", expected.get("p_value").asDouble(), ours.pValue(), 1e-9);
    }

    private static void figure(Comparisons comparisons, String what, JsonNode certified, double ours) {
        comparisons.computed(what, Double.parseDouble(certified.asString()), ours, 1e-13); // the certified digits
    }

    /** By the first column. */
    static List<Sample> groups(Reference table) {
        Map<String, List<Double>> groups = new LinkedHashMap<>();
        List<String> names = table.first();
        double[] values = table.last();
        for (int i = 0; i < values.length; i++) {
            groups.computeIfAbsent(names.get(i), k -> new ArrayList<>()).add(values[i]);
        }
        return groups.values().stream()
                .map(g -> Sample.of(g.stream().mapToDouble(Double::doubleValue).toArray()))
                .toList();
    }
}
