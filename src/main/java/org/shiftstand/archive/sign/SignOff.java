package org.shiftstand.archive.sign;

import java.security.GeneralSecurityException;
import java.security.Signature;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Base64;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.archive.Digest;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.JsonNodeFactory;

/**
 * Signs bags, and checks signatures.
 *
 * <p>A signature file is {@code {"signature":…,"statement":{…}}} in canonical JSON (RFC 8785) and a line feed; the signature is
 * Ed25519 (RFC 8032, pure) over the canonical bytes of the statement. Each statement names the files of all signatures before it,
 * so that none of them can be changed, exchanged or taken away behind it.
 */
public final class SignOff {
    /** {@code tested-by}. */
    public static final Pattern ROLE = Pattern.compile("[a-z][a-z0-9-]{0,31}");

    private static final Pattern FILE = Pattern.compile("signatures/(\\d{3})-([a-z][a-z0-9-]{0,31})\\.json");
    private static final int MOST_SIGNATURES = 99;
    private static final int SIGNATURE_BYTES = 64;
    private static final int MOST_DISPOSITION = 2000;

    private SignOff() {}

    /**
     * A file to add to a bag.
     *
     * @param path where it goes
     * @param content its bytes
     */
    public record Signed(String path, byte[] content) {}

    /**
     * Signs.
     *
     * @param earlier signature files that the bag has, by path
     * @param name salted digest of the signer's name
     * @param at now, cut to seconds
     * @throws BadInput where the role cannot be signed in, or a unit did not pass and nothing is said about it
     */
    public static Signed sign(
            Subject subject,
            SortedMap<String, byte[]> earlier,
            SigningKey key,
            String role,
            SaltedName name,
            Optional<String> disposition,
            Instant at,
            String software) {
        refuse(subject, earlier, key, role, disposition);
        Statement statement = new Statement(
                digests(earlier),
                at.truncatedTo(ChronoUnit.SECONDS),
                subject,
                disposition,
                key.id().base64(),
                name.digest(),
                role,
                software);
        JsonNode json = statement.json();
        byte[] file = Canonical.line(Canonical.bytes(JsonNodeFactory.instance
                .objectNode()
                .put("signature", Base64.getEncoder().encodeToString(key.sign(Canonical.bytes(json))))
                .set("statement", json)));
        return new Signed(path(earlier.size() + 1, role), file);
    }

    private static String path(int number, String role) {
        return String.format(Locale.ROOT, "signatures/%03d-%s.json", number, role);
    }

    private static void refuse(
            Subject subject,
            SortedMap<String, byte[]> earlier,
            SigningKey key,
            String role,
            Optional<String> disposition) {
        List<Problem> problems = new ArrayList<>();
        if (!ROLE.matcher(role).matches()) {
            problems.add(new Problem(
                    "--role " + role,
                    0,
                    0,
                    "is no role; expected small letters, digits and '-', such as" + " tested-by or approved-by"));
        }
        if (!subject.passed() && disposition.filter(text -> !text.isBlank()).isEmpty()) {
            problems.add(new Problem(
                    "--disposition",
                    0,
                    0,
                    "is missing: unit " + subject.unit() + " has the verdict "
                            + subject.verdict().replace('-', ' ')
                            + ", and whoever signs says what is to become of it; expected a sentence in quotes. The"
                            + " verdict stays what it is"));
        }
        if (subject.passed() && disposition.isPresent()) {
            problems.add(
                    new Problem("--disposition", 0, 0, "is for units that did not pass; this one did. Leave it out"));
        }
        if (disposition.filter(text -> text.length() > MOST_DISPOSITION).isPresent()) {
            problems.add(new Problem(
                    "--disposition",
                    0,
                    0,
                    "is longer than " + MOST_DISPOSITION + " characters; expected a sentence or two"));
        }
        if (earlier.size() >= MOST_SIGNATURES) {
            problems.add(new Problem(
                    "signatures/",
                    0,
                    0,
                    "has " + earlier.size()
                            + " signatures, and no more are taken; archive the run anew to sign it again"));
        }
        earlier.forEach((path, bytes) -> open(bytes)
                .filter(s -> s.role().equals(role) && s.key().equals(key.id().base64()))
                .ifPresent(s -> problems.add(new Problem(
                        path,
                        0,
                        0,
                        "is a signature by this key in the role " + role
                                + " already; nothing was signed. Expected another role or another person's key"))));
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    private static Optional<Statement> open(byte[] file) {
        return Canonical.read(file).flatMap(json -> {
            try {
                return Optional.of(Statement.read(json.path("statement")));
            } catch (Statement.Refused e) {
                return Optional.empty(); // the check says what is wrong with it
            }
        });
    }

    private static List<String> digests(SortedMap<String, byte[]> files) {
        return files.values().stream()
                .map(bytes -> "sha256:" + Digest.hex(bytes))
                .toList();
    }

    /**
     * Checks every signature of a bag, in their order.
     *
     * @param subject what the bag is, by its own digest and result
     * @param signatures files by path
     * @param names disclosed names by their digest
     * @param keys whom to trust
     */
    public static List<SignatureCheck> check(
            Subject subject, SortedMap<String, byte[]> signatures, Map<String, String> names, TrustedKeys keys) {
        List<SignatureCheck> checks = new ArrayList<>();
        List<String> before = new ArrayList<>();
        for (Map.Entry<String, byte[]> file : signatures.entrySet()) {
            checks.add(check(file.getKey(), file.getValue(), List.copyOf(before), subject, names, keys));
            before.add("sha256:" + Digest.hex(file.getValue()));
        }
        return checks;
    }

    private static SignatureCheck check(
            String path,
            byte[] file,
            List<String> before,
            Subject subject,
            Map<String, String> names,
            TrustedKeys keys) {
        Optional<JsonNode> json = Canonical.read(file);
        if (json.isEmpty()
                || json.get().size() != 2
                || !json.get().path("signature").isString()) {
            return new SignatureCheck.Bad(
                    path, "it is no signature in canonical JSON: it was changed, or never was one");
        }
        try {
            JsonNode signed = json.get().path("statement");
            Statement statement = Statement.read(signed);
            PublicId id = PublicId.ofBase64(statement.key())
                    .orElseThrow(() -> new Statement.Refused("its key is no Ed25519 key"));
            byte[] signature = PublicId.decoded(json.get().path("signature").stringValue())
                    .filter(bytes -> bytes.length == SIGNATURE_BYTES)
                    .orElseThrow(() -> new Statement.Refused("its signature is none of Ed25519"));
            if (!holds(id, Canonical.bytes(signed), signature)) {
                throw new Statement.Refused("the signature is not by the key over this statement");
            }
            place(path, statement, before, subject);
            return keys.opinion(said(path, statement, id, names, keys));
        } catch (Statement.Refused e) {
            return new SignatureCheck.Bad(path, e.why());
        }
    }

    /** A statement that holds must also be about this bag, and stand where it was put. */
    private static void place(String path, Statement statement, List<String> before, Subject subject)
            throws Statement.Refused {
        List<String> others = statement.subject().others(subject);
        if (!others.isEmpty()) {
            throw new Statement.Refused("it is about " + String.join(", ", others));
        }
        Matcher place = FILE.matcher(path);
        if (!place.matches()
                || Integer.parseInt(place.group(1)) != before.size() + 1
                || !place.group(2).equals(statement.role())) {
            throw new Statement.Refused(
                    "it does not stand where it was put: it was renamed, or one before it was taken away");
        }
        if (!statement.after().equals(before)) {
            throw new Statement.Refused(
                    "it was given after other signatures than stand before it: one of them was changed, taken away or put in");
        }
        if (!subject.passed() && statement.disposition().isEmpty()) {
            throw new Statement.Refused("it signs a unit that did not pass, and says nothing of what becomes of it");
        }
    }

    private static SignatureCheck.Said said(
            String path, Statement statement, PublicId id, Map<String, String> names, TrustedKeys keys) {
        return new SignatureCheck.Said(
                path,
                statement.role(),
                id.fingerprint(),
                Optional.ofNullable(names.get(statement.name())).or(() -> keys.nameOf(id.fingerprint())),
                statement.at(),
                statement.subject().verdict(),
                statement.disposition());
    }

    /** Whether a signature is by a key over a message. */
    static boolean holds(PublicId id, byte[] message, byte[] signature) {
        try {
            Signature verifier = Signature.getInstance("Ed25519");
            verifier.initVerify(id.key());
            verifier.update(message);
            return verifier.verify(signature);
        } catch (GeneralSecurityException e) {
            return false; // such as a point that is not on the curve, or S out of range (RFC 8032, 5.1.7)
        }
    }

    /**
     * Names that a bag discloses, by their digest.
     *
     * @param files by path below {@code names/}
     * @param wrong takes paths of files that are no disclosure, or whose name is not the one that was signed
     */
    public static Map<String, String> names(SortedMap<String, byte[]> files, List<String> wrong) {
        Map<String, String> names = new HashMap<>();
        files.forEach((path, bytes) -> SaltedName.read(bytes)
                .ifPresentOrElse(name -> names.put(name.digest(), name.name()), () -> wrong.add(path)));
        return names;
    }

    /** Salted digests of signers' names that the signatures hold, whatever else is to be thought of them. */
    public static List<String> signerNames(SortedMap<String, byte[]> signatures) {
        return signatures.values().stream()
                .flatMap(file -> open(file).stream())
                .map(Statement::name)
                .toList();
    }
}
