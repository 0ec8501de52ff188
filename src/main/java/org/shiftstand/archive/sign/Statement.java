package org.shiftstand.archive.sign;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.JsonNodeFactory;
import tools.jackson.databind.node.ObjectNode;

/**
 * What one person signed.
 *
 * @param after digests of the signature files that were there before, in their order
 * @param at when, by the signer's clock
 * @param subject what was signed
 * @param disposition what is to become of a unit that did not pass, in the signer's words
 * @param key of the signer, base64 of SubjectPublicKeyInfo
 * @param name salted digest of the signer's name
 * @param role {@code tested-by}, {@code approved-by}, …
 * @param software version of the program that signed
 */
record Statement(
        List<String> after,
        Instant at,
        Subject subject,
        Optional<String> disposition,
        String key,
        String name,
        String role,
        String software) {
    static final String TYPE = "shiftstand-sign-off";
    static final String ALGORITHM = "Ed25519";
    static final int FORMAT = 1;

    private static final String SOFTWARE = "shiftstand";

    private static final String DIGEST = "sha256:[0-9a-f]{64}";
    private static final Set<String> MEMBERS = Set.of(
            "after", "algorithm", "at", "bag", "format", "signer", "software", "spec", "type", "unit", "verdict");

    JsonNode json() {
        JsonNodeFactory nodes = JsonNodeFactory.instance;
        ObjectNode json = nodes.objectNode();
        ArrayNode earlier = json.putArray("after");
        after.forEach(earlier::add);
        json.put("algorithm", ALGORITHM);
        json.put("at", at.toString());
        json.put("bag", subject.bag());
        disposition.ifPresent(text -> json.put("disposition", text));
        json.put("format", FORMAT);
        json.putObject("signer").put("key", key).put("name", name).put("role", role);
        json.putObject("software").put("name", SOFTWARE).put("version", software);
        json.putObject("spec")
                .put("name", subject.spec())
                .put("sha256", subject.specSha256())
                .put("version", subject.specVersion());
        json.put("type", TYPE);
        json.put("unit", subject.unit());
        json.put("verdict", subject.verdict());
        return json;
    }

    /**
     * Reads one.
     *
     * @throws Refused with what is wrong
     */
    static Statement read(JsonNode json) throws Refused {
        if (!text(json, "type").equals(TYPE)) {
            throw new Refused("it is no sign-off, but '" + text(json, "type") + "'");
        }
        if (!text(json, "algorithm").equals(ALGORITHM)) {
            throw new Refused(
                    "it asks for the algorithm '" + text(json, "algorithm") + "'; only " + ALGORITHM + " counts");
        }
        if (!json.path("format").isInt() || json.path("format").intValue() != FORMAT) {
            throw new Refused("it has format " + json.path("format") + "; this program reads " + FORMAT);
        }
        Set<String> names = new TreeSet<>(json.propertyNames());
        names.remove("disposition");
        if (!names.equals(MEMBERS)) {
            throw new Refused("it has other members than a sign-off");
        }
        JsonNode spec = json.path("spec");
        JsonNode signer = json.path("signer");
        if (!spec.path("version").isInt()
                || spec.size() != 3
                || signer.size() != 3
                || json.path("software").size() != 2) {
            throw new Refused("its spec, signer or software is incomplete");
        }
        if (!text(signer, "name").matches(DIGEST)) {
            throw new Refused("its signer's name is no salted digest");
        }
        if (!text(json.path("software"), "name").equals(SOFTWARE)) {
            throw new Refused("it is by other software, '" + text(json.path("software"), "name") + "'");
        }
        return new Statement(
                digests(json.path("after")),
                instant(text(json, "at")),
                new Subject(
                        text(json, "bag"),
                        text(json, "unit"),
                        text(spec, "name"),
                        spec.path("version").intValue(),
                        text(spec, "sha256"),
                        text(json, "verdict")),
                json.has("disposition") ? Optional.of(text(json, "disposition")) : Optional.empty(),
                text(signer, "key"),
                text(signer, "name"),
                text(signer, "role"),
                text(json.path("software"), "version"));
    }

    /** A statement that cannot be taken as one. */
    static final class Refused extends Exception {
        Refused(String why) {
            super(why);
        }

        /** What is wrong, for a sentence. */
        String why() {
            return String.valueOf(getMessage());
        }
    }

    private static String text(JsonNode node, String key) throws Refused {
        if (!node.path(key).isString()) {
            throw new Refused("it has no text '" + key + "'");
        }
        return node.path(key).stringValue();
    }

    private static List<String> digests(JsonNode array) throws Refused {
        if (!array.isArray()) {
            throw new Refused("what it was given after is no list of digests");
        }
        List<String> digests = new ArrayList<>();
        for (JsonNode digest : array) {
            if (!digest.isString() || !digest.stringValue().matches(DIGEST)) {
                throw new Refused("what it was given after is no list of digests");
            }
            digests.add(digest.stringValue());
        }
        return digests;
    }

    private static Instant instant(String text) throws Refused {
        try {
            Instant at = Instant.parse(text);
            if (at.toString().equals(text)) {
                return at;
            }
        } catch (DateTimeException e) {
            // told below
        }
        throw new Refused("its time '" + text + "' is none in UTC");
    }
}
