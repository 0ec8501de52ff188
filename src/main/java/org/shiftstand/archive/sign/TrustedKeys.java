package org.shiftstand.archive.sign;

import java.nio.file.Path;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;

/** The public keys that somebody relies on: whose they are, for which roles and in which time. */
public final class TrustedKeys {
    private final Map<String, KnownKey> known = new HashMap<>();

    TrustedKeys(List<KnownKey> keys) {
        keys.forEach(key -> known.put(key.fingerprint(), key));
    }

    /**
     * One key.
     *
     * @param roles it may sign in; empty for any
     * @param from first instant that it may have signed at
     * @param until first instant that it may not have signed at any more
     * @param revoked why nothing that it signed counts, whatever time that says
     */
    record KnownKey(
            String fingerprint,
            String name,
            List<String> roles,
            Optional<Instant> from,
            Optional<Instant> until,
            Optional<String> revoked) {}

    /** Nobody is known. */
    public static TrustedKeys none() {
        return new TrustedKeys(List.of());
    }

    /**
     * Reads a file of known keys ({@code specs/schema/keys.schema.json}).
     *
     * @throws BadInput with everything that is wrong
     */
    public static TrustedKeys read(Path file) {
        return read(TextFile.read(file.toString(), file));
    }

    /** The same of a text. */
    public static TrustedKeys read(TextFile file) {
        return new TrustedKeys(new KeysReader(file).keys());
    }

    Optional<String> nameOf(String fingerprint) {
        return Optional.ofNullable(known.get(fingerprint)).map(KnownKey::name);
    }

    /** Of a signature that holds. The time is the signer's own word, so a revoked key is revoked for all times. */
    SignatureCheck opinion(SignatureCheck.Said said) {
        KnownKey key = known.get(said.fingerprint());
        if (key == null) {
            return new SignatureCheck.UnknownSigner(said);
        }
        if (key.revoked().isPresent()) {
            return new SignatureCheck.NotTrusted(
                    said, "the key is revoked: " + key.revoked().get());
        }
        if (!key.roles().isEmpty() && !key.roles().contains(said.role())) {
            return new SignatureCheck.NotTrusted(
                    said, "the key is known for " + String.join(", ", key.roles()) + ", not for " + said.role());
        }
        if (key.from().filter(from -> said.at().isBefore(from)).isPresent()
                || key.until().filter(until -> !said.at().isBefore(until)).isPresent()) {
            return new SignatureCheck.NotTrusted(
                    said,
                    "the key was not valid at " + said.at() + ", but "
                            + key.from().map(from -> "from " + from).orElse("always")
                            + key.until().map(until -> " until " + until).orElse(""));
        }
        return new SignatureCheck.Good(said);
    }
}
