package org.shiftstand.reference;

import java.util.List;
import org.shiftstand.stats.AverageAndRange;
import org.shiftstand.stats.CrossedAnova;
import org.shiftstand.stats.CrossedStudy;
import org.shiftstand.stats.GaugeVariation;
import tools.jackson.databind.JsonNode;

/** A gauge study of ten parts, three appraisers and three trials, both ways. */
final class GaugeStudyTenByThreeByThree implements Published {
    @Override
    public Source source() {
        return new Source("REF-GRR-01", "AIAG Measurement Systems Analysis, worked example of 10 × 3 × 3", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/grr_aiag_expected.json");
        CrossedStudy study = study();
        AverageAndRange ranges = AverageAndRange.of(study);
        constants(comparisons, file.get("constants"));
        // K1 to K3 of the table have four digits, ours have all: half a unit of the last is 1 part in 6000
        averageAndRange(comparisons, file.get("average_and_range"), ranges);
        published(comparisons, file.get("published"), ranges, CrossedAnova.of(study));
        table(comparisons, file.get("anova_table"), CrossedAnova.of(study));
        CrossedAnova anova = CrossedAnova.of(study);
        components(comparisons, "pooled", file.get("anova_pooled_no_interaction"), anova.pooled());
        components(comparisons, "with interaction", file.get("anova_with_interaction"), anova.withInteraction());
        comparisons.word("interaction is pooled, alpha 0.25", "yes", anova.pools() ? "yes" : "no");
    }

    static CrossedStudy study() {
        Reference csv = Reference.csv("reference/stats/grr_aiag.csv");
        List<String> mounts = csv.words("appraiser").stream().distinct().toList();
        double[][][] values = new double[10][3][3];
        for (int i = 0; i < csv.size(); i++) {
            values[(int) csv.column("part")[i] - 1][
                            mounts.indexOf(csv.words("appraiser").get(i))][(int) csv.column("trial")[i] - 1] =
                    csv.column("value")[i];
        }
        return CrossedStudy.of(values);
    }

    private static void constants(Comparisons comparisons, JsonNode constants) {
        constants
                .get("all_K1")
                .properties()
                .forEach(k -> comparisons.figure(
                        "K1, " + k.getKey() + " trials, 30 ranges",
                        k.getValue().asDouble(),
                        AverageAndRange.k1(Integer.parseInt(k.getKey()), 30),
                        0.00005));
        constants
                .get("all_K2")
                .properties()
                .forEach(k -> comparisons.figure(
                        "K2, " + k.getKey() + " appraisers",
                        k.getValue().asDouble(),
                        AverageAndRange.k1(Integer.parseInt(k.getKey()), 1),
                        0.00005));
        constants
                .get("all_K3")
                .properties()
                .forEach(k -> comparisons.figure(
                        "K3, " + k.getKey() + " parts",
                        k.getValue().asDouble(),
                        AverageAndRange.k1(Integer.parseInt(k.getKey()), 1),
                        0.00005));
    }

    private static void averageAndRange(Comparisons c, JsonNode computed, AverageAndRange ours) {
        GaugeVariation v = ours.variation();
        c.computed("mean range", computed.get("R_double_bar").asDouble(), ours.meanRange(), 1e-9);
        c.computed("difference of appraisers", computed.get("X_diff").asDouble(), ours.mountDifference(), 1e-9);
        c.computed("range of parts", computed.get("R_p").asDouble(), ours.unitRange(), 1e-9);
        String exact = ", exact constants for rounded ones";
        c.computed("EV" + exact, computed.get("EV").asDouble(), v.repeatability(), 1e-4);
        c.computed("AV" + exact, computed.get("AV").asDouble(), v.reproducibility(), 1e-4);
        c.computed("AV radicand" + exact, computed.get("AV_radicand").asDouble(), ours.reproducibilityRadicand(), 2e-4);
        c.computed("GRR" + exact, computed.get("GRR").asDouble(), v.gauge(), 1e-4);
        c.computed("PV" + exact, computed.get("PV").asDouble(), v.unit(), 2e-4);
        c.computed("TV" + exact, computed.get("TV").asDouble(), v.total(), 2e-4);
        c.computed(
                "ndc, raw" + exact,
                computed.get("ndc_raw").asDouble(),
                v.rawDistinctCategories().orElse(0),
                2e-4);
    }

    private static void published(Comparisons c, JsonNode printed, AverageAndRange ranges, CrossedAnova anova) {
        GaugeVariation v = ranges.variation();
        c.figure("EV, as printed", printed.get("EV").asDouble(), v.repeatability(), 0.0005);
        c.figure("AV, as printed", printed.get("AV").asDouble(), v.reproducibility(), 0.0005);
        c.figure("GRR, as printed", printed.get("GRR").asDouble(), v.gauge(), 0.0005);
        c.figure("PV, as printed", printed.get("PV").asDouble(), v.unit(), 0.0005);
        c.figure("TV, as printed", printed.get("TV").asDouble(), v.total(), 0.0005);
        c.figure("EV, %, as printed", printed.get("pct_EV").asDouble(), percent(v, v.repeatability()), 0.01);
        c.figure("AV, %, as printed", printed.get("pct_AV").asDouble(), percent(v, v.reproducibility()), 0.01);
        c.figure("GRR, %, as printed", printed.get("pct_GRR").asDouble(), percent(v, v.gauge()), 0.01);
        c.figure("PV, %, as printed", printed.get("pct_PV").asDouble(), percent(v, v.unit()), 0.01);
        c.count("ndc", printed.get("ndc").asLong(), (long)
                v.distinctCategories().orElse(0));
        GaugeVariation pooled = anova.variation();
        c.figure(
                "GRR by ANOVA, %, as printed",
                printed.get("anova_pct_GRR").asDouble(), percent(pooled, pooled.gauge()), 0.005);
        c.count("ndc by ANOVA", printed.get("anova_ndc").asLong(), (long)
                pooled.distinctCategories().orElse(0));
    }

    private static void table(Comparisons c, JsonNode computed, CrossedAnova anova) {
        JsonNode squares = computed.get("SS");
        c.computed(
                "squares, appraisers",
                squares.get("operator").asDouble(),
                anova.mount().squares(),
                1e-9);
        c.computed(
                "squares, parts", squares.get("part").asDouble(), anova.unit().squares(), 1e-9);
        c.computed(
                "squares, interaction",
                squares.get("interaction").asDouble(),
                anova.interaction().squares(),
                1e-9);
        c.computed(
                "squares, error", squares.get("error").asDouble(), anova.error().squares(), 1e-9);
        c.computed("squares, total", squares.get("total").asDouble(), anova.totalSquares(), 1e-9);
        c.count(
                "freedom, appraisers",
                computed.get("df").get("operator").asLong(),
                anova.mount().freedom());
        c.count(
                "freedom, parts",
                computed.get("df").get("part").asLong(),
                anova.unit().freedom());
        c.count(
                "freedom, interaction",
                computed.get("df").get("interaction").asLong(),
                anova.interaction().freedom());
        c.count(
                "freedom, error",
                computed.get("df").get("error").asLong(),
                anova.error().freedom());
        c.computed(
                "mean square, appraisers",
                computed.get("MS").get("operator").asDouble(),
                anova.mount().mean(),
                1e-9);
        c.computed(
                "mean square, parts",
                computed.get("MS").get("part").asDouble(),
                anova.unit().mean(),
                1e-9);
        c.computed(
                "mean square, interaction",
                computed.get("MS").get("interaction").asDouble(),
                anova.interaction().mean(),
                1e-9);
        c.computed(
                "mean square, error",
                computed.get("MS").get("error").asDouble(),
                anova.error().mean(),
                1e-9);
        c.computed("F, interaction", computed.get("F_interaction").asDouble(), anova.interactionF(), 1e-9);
        c.computed("p, interaction", computed.get("p_interaction").asDouble(), anova.interactionP(), 1e-9);
        c.computed("F, parts", computed.get("F_part_vs_interaction").asDouble(), anova.unitF(), 1e-9);
        c.computed("F, appraisers", computed.get("F_operator_vs_interaction").asDouble(), anova.mountF(), 1e-9);
    }

    private static void components(Comparisons c, String how, JsonNode computed, GaugeVariation v) {
        c.computed("EV, " + how, computed.get("sd_EV").asDouble(), v.repeatability(), 1e-9);
        c.computed("AV, " + how, computed.get("sd_AV").asDouble(), v.reproducibility(), 1e-9);
        c.figure("interaction, " + how, computed.get("sd_INT").asDouble(), v.interaction(), 0);
        c.computed("GRR, " + how, computed.get("sd_GRR").asDouble(), v.gauge(), 1e-9);
        c.computed("PV, " + how, computed.get("sd_PV").asDouble(), v.unit(), 1e-9);
        c.computed("TV, " + how, computed.get("sd_TV").asDouble(), v.total(), 1e-9);
        c.computed("EV, %, " + how, computed.get("pct_EV").asDouble(), percent(v, v.repeatability()), 1e-9);
        c.computed("AV, %, " + how, computed.get("pct_AV").asDouble(), percent(v, v.reproducibility()), 1e-9);
        c.computed("GRR, %, " + how, computed.get("pct_GRR").asDouble(), percent(v, v.gauge()), 1e-9);
        c.computed("PV, %, " + how, computed.get("pct_PV").asDouble(), percent(v, v.unit()), 1e-9);
        c.computed(
                "GRR, % of variance, " + how,
                computed.get("pct_contribution_GRR").asDouble(),
                100 * v.contribution(),
                1e-9);
        c.computed(
                "ndc, raw, " + how,
                computed.get("ndc_raw").asDouble(),
                v.rawDistinctCategories().orElse(0),
                1e-9);
        c.count("ndc, " + how, computed.get("ndc").asLong(), (long)
                v.distinctCategories().orElse(0));
    }

    private static double percent(GaugeVariation v, double part) {
        return 100 * v.shareOfTotal(part);
    }
}
