package org.shiftstand.reference;

import org.shiftstand.archive.Digest;
import org.shiftstand.archive.sign.SigningFigures;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Whole documents in canonical form; compared by their digests, since some hold what no table can show. */
final class CanonicalDocuments implements Published {
    @Override
    public Source source() {
        return new Source("REF-JCS-01", "RFC 8785, test data of its author: SHA-256 of canonical forms", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        for (JsonNode one : Reference.json("reference/signature/jcs_cases.json").get("cases")) {
            byte[] canonical = SigningFigures.canonical(
                    JsonMapper.shared().readTree(one.get("input").asString()));
            comparisons.word(one.get("name").asString(), one.get("sha256").asString(), Digest.hex(canonical));
        }
    }
}
