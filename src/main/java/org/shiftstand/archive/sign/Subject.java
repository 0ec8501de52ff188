package org.shiftstand.archive.sign;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * What a signature is about.
 *
 * @param bag digest of the bag
 * @param unit id of the unit
 * @param spec name of the spec that it was judged by
 * @param specVersion version of that spec
 * @param specSha256 digest of its text
 * @param verdict {@code pass}, {@code fail} or {@code no-verdict}
 */
public record Subject(String bag, String unit, String spec, int specVersion, String specSha256, String verdict) {
    /** As a bag's digest and its {@code result.json} say; empty where that is no result. */
    public static Optional<Subject> of(String bag, byte[] result) {
        try {
            JsonNode json = JsonMapper.shared().readTree(result);
            JsonNode spec = json.path("spec");
            if (!json.path("unit").isString()
                    || !json.path("verdict").isString()
                    || !spec.path("sha256").isString()) {
                return Optional.empty();
            }
            return Optional.of(new Subject(
                    bag,
                    json.path("unit").stringValue(),
                    spec.path("name").asString(),
                    spec.path("version").asInt(0),
                    spec.path("sha256").stringValue(),
                    json.path("verdict").stringValue()));
        } catch (JacksonException e) {
            return Optional.empty();
        }
    }

    /** Whether the unit passed. */
    public boolean passed() {
        return verdict.equals("pass");
    }

    /** What of another subject is not the same, in words; empty where all is. */
    List<String> others(Subject other) {
        List<String> others = new ArrayList<>();
        differing("another bag", bag, other.bag, others);
        differing("another unit", unit, other.unit, others);
        differing("another spec", specText(), other.specText(), others);
        differing("another verdict", verdict, other.verdict, others);
        return others;
    }

    /** A line each: no two specs read alike. */
    private String specText() {
        return spec + "\n" + specVersion + "\n" + specSha256;
    }

    private static void differing(String what, String one, String other, List<String> others) {
        if (!one.equals(other)) {
            others.add(what);
        }
    }
}
