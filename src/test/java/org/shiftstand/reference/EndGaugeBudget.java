package org.shiftstand.reference;

import org.shiftstand.stats.Gum;
import tools.jackson.databind.JsonNode;

/** Calibration of an end gauge: the GUM's first worked budget. */
final class EndGaugeBudget implements Published {
    @Override
    public Source source() {
        return new Source("REF-GUM-01", "JCGM 100:2008, annex H.1, calibration of an end gauge", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode file = Reference.json("reference/stats/gum_h1.json");
        JsonNode in = file.get("inputs");
        JsonNode computed = file.get("computed");
        JsonNode published = file.get("published");

        Gum.Combined d =
                Gum.combine(Reference.numbers(in.get("u_d_parts_nm")), Reference.numbers(in.get("nu_d_parts")));
        double lengthNm = in.get("l_S_mm").asDouble() * 1e6;
        double uDeltaAlpha = in.get("delta_alpha_half_width").asDouble() / Math.sqrt(3);
        double uDeltaTheta = in.get("delta_theta_half_width").asDouble() / Math.sqrt(3);
        double uAlpha = in.get("alpha_S_half_width").asDouble() / Math.sqrt(3);
        double uTheta = Math.hypot(
                in.get("theta_mean_u").asDouble(),
                in.get("theta_cycle_amplitude").asDouble() / Math.sqrt(2));
        double ofTemperatures = lengthNm * in.get("alpha_S_per_C").asDouble() * uDeltaTheta;
        double ofExpansions = lengthNm * in.get("theta_C").asDouble() * uDeltaAlpha;
        Gum.Combined all = Gum.combine(
                new double[] {in.get("u_l_S_nm").asDouble(), d.standard(), ofTemperatures, ofExpansions}, new double[] {
                    in.get("nu_l_S").asDouble(),
                    d.freedom(),
                    in.get("nu_delta_theta").asDouble(),
                    in.get("nu_delta_alpha").asDouble()
                });
        // H.1.7: the products of two uncertainties, which are not negligible here
        double second = Math.hypot(lengthNm * uDeltaAlpha * uTheta, lengthNm * uAlpha * uDeltaTheta);
        Gum.Combined withSecond = Gum.combine(
                new double[] {all.standard(), second}, new double[] {all.freedom(), Double.POSITIVE_INFINITY});

        comparisons.computed(
                "u of the comparator's reading, nm", computed.get("u_d_nm").asDouble(), d.standard(), 1e-9);
        comparisons.computed("its degrees of freedom", computed.get("nu_d").asDouble(), d.freedom(), 1e-9);
        comparisons.computed(
                "u of the expansion difference", computed.get("u_delta_alpha").asDouble(), uDeltaAlpha, 1e-9);
        comparisons.computed(
                "u of the temperature difference", computed.get("u_delta_theta").asDouble(), uDeltaTheta, 1e-9);
        comparisons.computed("u of the temperature", computed.get("u_theta").asDouble(), uTheta, 1e-9);
        comparisons.computed(
                "contribution of the temperature difference, nm",
                computed.get("contribution_delta_theta_nm").asDouble(),
                ofTemperatures,
                1e-9);
        comparisons.computed(
                "contribution of the expansion difference, nm",
                computed.get("contribution_delta_alpha_nm").asDouble(),
                Math.abs(ofExpansions),
                1e-9);
        comparisons.computed("combined, nm", computed.get("u_c_nm").asDouble(), all.standard(), 1e-9);
        comparisons.computed(
                "effective degrees of freedom", computed.get("nu_eff").asDouble(), all.freedom(), 1e-9);
        comparisons.count("truncated", published.get("nu_eff").asLong(), (long) Gum.truncated(all.freedom()));
        comparisons.computed("t, 99 %", computed.get("t_0995_nu16").asDouble(), all.coverageFactor(0.99), 1e-9);
        comparisons.computed("U99, nm", computed.get("U99_nm_unrounded").asDouble(), all.expanded(0.99), 1e-9);
        comparisons.computed(
                "combined with second order, nm",
                computed.get("u_c_second_order_nm").asDouble(),
                withSecond.standard(),
                1e-9);
        comparisons.figure("combined, nm, as printed", published.get("u_c_nm").asDouble(), all.standard(), 0.5);
        comparisons.figure("t, 99 %, as printed", published.get("t99").asDouble(), all.coverageFactor(0.99), 0.005);
        // the print multiplies a rounded u by a rounded t: 2.92 · 32
        comparisons.figure("U99, nm, as printed", published.get("U99_nm").asDouble(), all.expanded(0.99), 1);
        comparisons.figure(
                "combined with second order, nm, as printed",
                published.get("second_order_u_c_nm").asDouble(),
                withSecond.standard(),
                0.5);
    }
}
