package org.shiftstand.reference;

import org.shiftstand.stats.CalibrationLine;
import tools.jackson.databind.JsonNode;

/** Norris: calibration of ozone monitors. */
final class LineCertified implements Published {
    @Override
    public Source source() {
        return new Source("REF-STRD-LIN", "NIST Statistical Reference Datasets, linear regression, Norris", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode expected = Reference.json("reference/stats/strd_norris_expected.json");
        Reference data = Reference.csv("reference/stats/strd_norris.csv");
        CalibrationLine ours = CalibrationLine.of(data.column("x"), data.column("y"), 0);
        figure(comparisons, "intercept", expected.get("B0"), ours.intercept(), 1e-11);
        figure(comparisons, "slope", expected.get("B1"), ours.slope(), 1e-12);
        figure(comparisons, "intercept, standard deviation", expected.get("se_B0"), ours.interceptSd(), 1e-11);
        figure(comparisons, "slope, standard deviation", expected.get("se_B1"), ours.slopeSd(), 1e-11);
        figure(comparisons, "residual sd", expected.get("residual_sd"), ours.residualSd(), 1e-11);
        figure(comparisons, "R²", expected.get("r_squared"), ours.rSquared(), 1e-12);
        figure(comparisons, "F", expected.get("F"), ours.f(), 1e-9);
        figure(comparisons, "residual sum of squares", expected.get("ss_residual"), ours.residualSquares(), 1e-10);
        comparisons.count("freedom", expected.get("df_residual").asInt(), ours.freedom());
    }

    private static void figure(Comparisons comparisons, String what, JsonNode certified, double ours, double share) {
        comparisons.computed(what, Double.parseDouble(certified.asString()), ours, share);
    }
}
