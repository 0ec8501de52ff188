package org.shiftstand.reference;

import org.shiftstand.stats.ConfidenceLimits.Limits;
import org.shiftstand.stats.Equivalence;
import org.shiftstand.stats.Equivalence.Side;
import tools.jackson.databind.JsonNode;

/** Two means alike within 0.43 standard deviations. */
final class EquivalenceWorked implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-TOST-01",
                "Lakens, Social Psychological and Personality Science 8(4), 2017",
                "VERIFIED arithmetic, inputs RECALL; printed t is Welch's, printed freedom Student's");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode json = Reference.json("reference/stats/tost_lakens.json");
        Side a = side(json.get("group1"));
        Side b = side(json.get("group2"));
        double bound = json.get("bounds_in_sd").asDouble() * Math.sqrt((a.sd() * a.sd() + b.sd() * b.sd()) / 2);
        comparisons.computed("bound", json.get("bound_raw").asDouble(), bound, 1e-9);
        Equivalence welch = Equivalence.welch(a, b, bound);
        Equivalence student = Equivalence.student(a, b, bound);
        comparisons.figure("t, as printed", json.get("published").get("t").asDouble(), welch.tUpper(), 0.005);
        comparisons.figure(
                "freedom, as printed", json.get("published").get("df").asDouble(), student.freedom(), 0.5);
        comparisons.figure("p, as printed", json.get("published").get("p").asDouble(), welch.pValue(), 0.0005);
        figures(comparisons, "Welch, ", json.get("welch"), welch);
        figures(comparisons, "Student, ", json.get("pooled"), student);
    }

    private static void figures(Comparisons comparisons, String of, JsonNode expected, Equivalence ours) {
        comparisons.computed(of + "standard error", expected.get("se").asDouble(), ours.standardError(), 1e-9);
        comparisons.computed(of + "freedom", expected.get("df").asDouble(), ours.freedom(), 1e-9);
        comparisons.computed(
                of + "t against the lower bound", expected.get("t_lower").asDouble(), ours.tLower(), 1e-9);
        comparisons.computed(
                of + "t against the upper bound", expected.get("t_upper").asDouble(), ours.tUpper(), 1e-9);
        comparisons.computed(of + "p, lower", expected.get("p_lower").asDouble(), ours.pLower(), 1e-9);
        comparisons.computed(of + "p, upper", expected.get("p_upper").asDouble(), ours.pUpper(), 1e-9);
        comparisons.computed(of + "p", expected.get("p").asDouble(), ours.pValue(), 1e-9);
        Limits limits = ours.limits(0.95);
        comparisons.computed(
                of + "90 % interval, low", expected.get("ci90").get(0).asDouble(), limits.low(), 1e-9);
        comparisons.computed(
                of + "90 % interval, high", expected.get("ci90").get(1).asDouble(), limits.high(), 1e-9);
    }

    private static Side side(JsonNode group) {
        return new Side(
                group.get("mean").asDouble(),
                group.get("sd").asDouble(),
                group.get("n").asInt());
    }
}
