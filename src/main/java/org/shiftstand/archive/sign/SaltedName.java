package org.shiftstand.archive.sign;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Optional;
import java.util.random.RandomGenerator;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.JsonNodeFactory;

/**
 * A person's name that is signed without being told: what is signed is SHA-256(salt ‖ name in UTF-8). Whoever holds salt and name
 * can prove whose name it was; once they are deleted, nobody can, since 32 random bytes cannot be guessed.
 *
 * @param digest {@code sha256:} and 64 hex digits
 * @param salt lower-case hex of 32 random bytes
 * @param name as the person wrote it
 */
public record SaltedName(String digest, String salt, String name) {
    private static final int SALT_BYTES = 32;

    /** A name with a salt of its own. */
    public static SaltedName of(String name, RandomGenerator random) {
        byte[] salt = new byte[SALT_BYTES];
        random.nextBytes(salt);
        return new SaltedName(digest(salt, name), HexFormat.of().formatHex(salt), name);
    }

    /** Reads a disclosure; empty where it is none, or does not prove what it says. */
    public static Optional<SaltedName> read(byte[] file) {
        return Canonical.read(file)
                .filter(SaltedName::formed)
                .map(SaltedName::of)
                .filter(SaltedName::holds);
    }

    private static boolean formed(JsonNode node) {
        return node.size() == 3
                && node.path("digest").isString()
                && node.path("name").isString()
                && node.path("salt").isString()
                && node.path("salt").stringValue().matches("[0-9a-f]{64}");
    }

    private static SaltedName of(JsonNode node) {
        return new SaltedName(
                node.path("digest").stringValue(),
                node.path("salt").stringValue(),
                node.path("name").stringValue());
    }

    private boolean holds() {
        return digest.equals(digest(HexFormat.of().parseHex(salt), name));
    }

    /** As it is kept: canonical JSON with a line feed. */
    public byte[] json() {
        return Canonical.line(Canonical.bytes(JsonNodeFactory.instance
                .objectNode()
                .put("digest", digest)
                .put("name", name)
                .put("salt", salt)));
    }

    private static String digest(byte[] salt, String name) {
        try {
            MessageDigest sha256 = MessageDigest.getInstance("SHA-256");
            sha256.update(salt);
            return "sha256:" + HexFormat.of().formatHex(sha256.digest(name.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
