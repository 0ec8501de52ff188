package org.shiftstand.reference;

import org.shiftstand.archive.sign.SigningFigures;
import tools.jackson.databind.JsonNode;

/** Ed25519: keys and signatures from seeds, and changed ones that must not hold. */
final class SignaturesOfRfc implements Published {
    @Override
    public Source source() {
        return new Source(
                "REF-SIG-01", "RFC 8032, 7.1, TEST 1 and TEST 2", "VERIFIED; what must not hold is changed from those");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode cases = Reference.json("reference/signature/ed25519.json");
        for (JsonNode good : cases.get("must_verify")) {
            String name = good.get("name").asString();
            String seed = good.get("secret").asString();
            String message = good.get("message").asString();
            String signature = good.get("signature").asString();
            String publicHalf = good.get("public").asString();
            comparisons.word(name + ", public key", publicHalf, SigningFigures.publicHalf(seed));
            comparisons.word(name + ", signature", signature, SigningFigures.signature(seed, message));
            comparisons.word(name, "holds", holds(publicHalf, message, signature));
        }
        for (JsonNode bad : cases.get("must_fail")) {
            comparisons.word(
                    bad.get("name").asString(),
                    "does not hold",
                    holds(
                            bad.get("public").asString(),
                            bad.get("message").asString(),
                            bad.get("signature").asString()));
        }
    }

    private static String holds(String publicHalf, String message, String signature) {
        return SigningFigures.holds(publicHalf, message, signature) ? "holds" : "does not hold";
    }
}
