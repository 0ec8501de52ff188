package org.shiftstand.reference;

import org.shiftstand.stats.Capability;
import org.shiftstand.stats.ConfidenceLimits;
import tools.jackson.databind.JsonNode;

/** Mean 16, standard deviation 2 between 8 and 20; limits for fifty values. */
final class CapabilityWorked implements Published {
    @Override
    public Source source() {
        return new Source("REF-CAP-01", "NIST/SEMATECH e-Handbook 6.1.6", "RECALL of the example, VERIFIED arithmetic");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode data = Reference.json("reference/stats/capability_nist.json");
        JsonNode computed = data.get("computed");
        int n = computed.get("n").asInt();
        Capability ours = new Capability(
                computed.get("mean").asDouble(),
                computed.get("s").asDouble(),
                n,
                n - 1.0,
                computed.get("LSL").asDouble(),
                computed.get("USL").asDouble());
        comparisons.figure("Cp", data.get("published").get("Cp").asDouble(), ours.cp(), 0.05);
        comparisons.figure("Cpk", data.get("published").get("Cpk").asDouble(), ours.cpk(), 0.5e-4);
        comparisons.computed("Cp", computed.get("Cp").asDouble(), ours.cp().orElse(Double.NaN), 1e-9);
        comparisons.computed("Cpl", computed.get("Cpl").asDouble(), ours.cpl(), 1e-9);
        comparisons.computed("Cpu", computed.get("Cpu").asDouble(), ours.cpu(), 1e-9);
        comparisons.computed("Cpk", computed.get("Cpk").asDouble(), ours.cpk(), 1e-9);
        double target = (computed.get("LSL").asDouble() + computed.get("USL").asDouble()) / 2;
        comparisons.computed(
                "Cpm", computed.get("Cpm").asDouble(), ours.cpm(target).orElse(Double.NaN), 1e-9);
        comparisons.computed(
                "share beyond the limits", computed.get("fraction_out_normal").asDouble(), ours.fractionOut(), 1e-9);
        double oneSided = (1 + computed.get("confidence").asDouble()) / 2;
        ConfidenceLimits.Limits cp = ours.ofCp(oneSided);
        comparisons.computed("Cp, lower limit", computed.get("Cp_ci").get(0).asDouble(), cp.low(), 1e-9);
        comparisons.computed("Cp, upper limit", computed.get("Cp_ci").get(1).asDouble(), cp.high(), 1e-9);
        ConfidenceLimits.Limits cpk = ours.ofCpk(oneSided);
        comparisons.computed(
                "Cpk, lower limit", computed.get("Cpk_ci_nist").get(0).asDouble(), cpk.low(), 1e-9);
        comparisons.computed(
                "Cpk, upper limit", computed.get("Cpk_ci_nist").get(1).asDouble(), cpk.high(), 1e-9);
    }
}
