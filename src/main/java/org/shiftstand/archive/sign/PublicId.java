package org.shiftstand.archive.sign;

import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.PublicKey;
import java.security.spec.X509EncodedKeySpec;
import java.util.Arrays;
import java.util.Base64;
import java.util.Optional;
import org.shiftstand.archive.Digest;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * A public key of Ed25519 and what it is known by.
 *
 * @param key the key
 * @param fingerprint {@code sha256:} and the hex SHA-256 of its SubjectPublicKeyInfo (RFC 8410, 4)
 */
public record PublicId(PublicKey key, String fingerprint) {
    /** SubjectPublicKeyInfo of Ed25519 up to the 32 bytes of the key: RFC 8410, 4 and 10.1. */
    private static final byte[] SPKI_HEAD = {0x30, 0x2a, 0x30, 0x05, 0x06, 0x03, 0x2b, 0x65, 0x70, 0x03, 0x21, 0x00};

    private static final int SPKI_BYTES = 44;

    static PublicId of(PublicKey key) {
        return new PublicId(key, "sha256:" + Digest.hex(key.getEncoded()));
    }

    /** From its SubjectPublicKeyInfo in DER; empty where it is no Ed25519 key in its one encoding. */
    static Optional<PublicId> ofSpki(byte[] der) {
        if (der.length != SPKI_BYTES || !Arrays.equals(der, 0, SPKI_HEAD.length, SPKI_HEAD, 0, SPKI_HEAD.length)) {
            return Optional.empty();
        }
        try {
            PublicKey key = KeyFactory.getInstance("Ed25519").generatePublic(new X509EncodedKeySpec(der));
            return Arrays.equals(der, key.getEncoded()) ? Optional.of(of(key)) : Optional.empty();
        } catch (GeneralSecurityException e) {
            return Optional.empty();
        }
    }

    /**
     * Reads a public key file.
     *
     * @throws BadInput where it is none of Ed25519
     */
    public static PublicId read(Path file) {
        Pem pem = Pem.read(file);
        return Optional.of(pem)
                .filter(p -> p.label().equals(Pem.PUBLIC))
                .flatMap(p -> ofSpki(p.der()))
                .orElseThrow(() -> new BadInput(new Problem(
                        file.toString(),
                        0,
                        0,
                        "is a '" + pem.label() + "' or of another kind of key; expected the public key of Ed25519")));
    }

    /** From base64 of the same; empty where it is not in its one spelling. */
    static Optional<PublicId> ofBase64(String text) {
        return decoded(text).flatMap(PublicId::ofSpki);
    }

    String base64() {
        return Base64.getEncoder().encodeToString(key.getEncoded());
    }

    /** Base64 (RFC 4648, 4) in its canonical spelling only. */
    static Optional<byte[]> decoded(String text) {
        try {
            byte[] bytes = Base64.getDecoder().decode(text);
            return Base64.getEncoder().encodeToString(bytes).equals(text) ? Optional.of(bytes) : Optional.empty();
        } catch (IllegalArgumentException e) {
            return Optional.empty();
        }
    }
}
