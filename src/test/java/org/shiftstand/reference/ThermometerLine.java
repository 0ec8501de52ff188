package org.shiftstand.reference;

import org.shiftstand.stats.CalibrationLine;
import tools.jackson.databind.JsonNode;

/** Calibration of a thermometer: a line with the covariance of its parameters. */
final class ThermometerLine implements Published {
    @Override
    public Source source() {
        return new Source("REF-GUM-03", "JCGM 100:2008, annex H.3", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode data = Reference.json("reference/stats/gum_h3.json");
        CalibrationLine line = CalibrationLine.of(
                Reference.numbers(data.get("t_C")),
                Reference.numbers(data.get("correction_C")),
                data.get("reference_temperature_C").asDouble());
        JsonNode printed = data.get("published");
        JsonNode computed = data.get("computed");
        both(comparisons, "intercept", printed.get("y1"), computed.get("y1"), line.intercept(), 0.5e-4);
        both(comparisons, "its uncertainty", printed.get("s_y1"), computed.get("s_y1"), line.interceptSd(), 0.5e-4);
        both(comparisons, "slope", printed.get("y2"), computed.get("y2"), line.slope(), 0.5e-5);
        both(comparisons, "its uncertainty", printed.get("s_y2"), computed.get("s_y2"), line.slopeSd(), 0.5e-5);
        both(comparisons, "correlation", printed.get("r"), computed.get("r_y1_y2"), line.correlation(), 0.5e-3);
        both(comparisons, "residual sd", printed.get("s"), computed.get("s"), line.residualSd(), 0.5e-4);
        both(comparisons, "at 30 °C", printed.get("b_at_30"), computed.get("b_at_30"), line.at(30), 0.5e-4);
        both(
                comparisons,
                "its uncertainty",
                printed.get("u_b_at_30"),
                computed.get("u_b_at_30"),
                line.uncertaintyAt(30),
                0.5e-4);
    }

    private static void both(
            Comparisons comparisons, String what, JsonNode printed, JsonNode computed, double ours, double digit) {
        comparisons.figure(what + ", as printed", printed.asDouble(), ours, digit);
        comparisons.computed(what, computed.asDouble(), ours, 1e-9);
    }
}
