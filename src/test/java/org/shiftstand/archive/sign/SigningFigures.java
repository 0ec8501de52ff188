package org.shiftstand.archive.sign;

import java.security.SecureRandom;
import java.util.HexFormat;
import tools.jackson.databind.JsonNode;

/** What this package makes of published cases, for {@code reference}; hex in and out. */
public final class SigningFigures {
    private SigningFigures() {}

    /** Bytes of a document in canonical form. */
    public static byte[] canonical(JsonNode document) {
        return Canonical.bytes(document);
    }

    /** The signature by the key of a seed of 32 bytes. */
    public static String signature(String seed, String message) {
        return HexFormat.of().formatHex(key(seed).sign(HexFormat.of().parseHex(message)));
    }

    /** The public half of that key, without what stands around it (RFC 8410, 4). */
    public static String publicHalf(String seed) {
        String spki = HexFormat.of().formatHex(key(seed).id().key().getEncoded());
        return spki.substring("302a300506032b6570032100".length());
    }

    private static SigningKey key(String seed) {
        return SigningKey.generate(new Seed(HexFormat.of().parseHex(seed)));
    }

    /** Whether a signature holds. */
    public static boolean holds(String publicHalf, String message, String signature) {
        HexFormat hex = HexFormat.of();
        PublicId id = PublicId.ofSpki(hex.parseHex("302a300506032b6570032100" + publicHalf))
                .orElseThrow();
        return SignOff.holds(id, hex.parseHex(message), hex.parseHex(signature));
    }

    private static final class Seed extends SecureRandom {
        private static final long serialVersionUID = 1;

        private final byte[] seed;

        Seed(byte[] seed) {
            this.seed = seed.clone();
        }

        @Override
        public void nextBytes(byte[] bytes) {
            System.arraycopy(seed, 0, bytes, 0, bytes.length);
        }
    }
}
