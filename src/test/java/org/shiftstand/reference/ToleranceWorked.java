package org.shiftstand.reference;

import org.shiftstand.stats.ToleranceFactor;
import tools.jackson.databind.JsonNode;

/** Forty-three items, coverage 90 %, confidence 99 %. */
final class ToleranceWorked implements Published {
    @Override
    public Source source() {
        return new Source("REF-TOL-01", "NIST/SEMATECH e-Handbook 7.2.6.3; Howe 1969; 25-digit quadrature", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode worked = Reference.json("reference/stats/tol_nist_7263.json");
        int n = worked.get("n").asInt();
        double coverage = worked.get("coverage").asDouble();
        double confidence = worked.get("confidence").asDouble();
        double mean = worked.get("mean").asDouble();
        double sd = worked.get("sd").asDouble();
        JsonNode two = worked.get("two_sided");
        JsonNode one = worked.get("one_sided");
        double howe = ToleranceFactor.howe(n, coverage, confidence);
        double natrella = ToleranceFactor.natrella(n, coverage, confidence);
        comparisons.figure(
                "two-sided factor, exact",
                two.get("k_exact").asDouble(),
                ToleranceFactor.twoSided(n, coverage, confidence),
                two.get("k_exact_tolerance").asDouble());
        comparisons.figure("two-sided factor, Howe", two.get("k_howe").asDouble(), howe, 0.5e-10);
        comparisons.figure(
                "one-sided factor, exact",
                one.get("k_noncentral_t").asDouble(),
                ToleranceFactor.oneSided(n, coverage, confidence),
                1e-9);
        comparisons.figure("one-sided factor, Natrella", one.get("k_natrella").asDouble(), natrella, 1e-9);
        JsonNode printedTwo = two.get("printed_in_public_worksheet");
        comparisons.figure("lower limit, Howe", printedTwo.get("lower").asDouble(), mean - howe * sd, 0.5e-6);
        comparisons.figure("upper limit, Howe", printedTwo.get("upper").asDouble(), mean + howe * sd, 0.5e-5);
        JsonNode printedOne = one.get("printed_in_public_worksheet");
        comparisons.figure("upper limit, one-sided", printedOne.get("upper").asDouble(), mean + natrella * sd, 0.5e-6);
        comparisons.figure("lower limit, one-sided", printedOne.get("lower").asDouble(), mean - natrella * sd, 0.5e-6);
    }
}
