package org.shiftstand.archive.run;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.judge.NamedTexts.Role;
import org.shiftstand.report.JsonWriter;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * {@code judging.json}: from which file of the bag, by which of its texts and with which options the run was judged.
 *
 * @param source the samples, a path in the bag
 * @param sourceName the name that the file had, which a result repeats
 * @param said what was said beside the texts, without the mapping
 * @param mapping how a capture is read
 * @param texts by role: those that go before what a record holds
 */
record JudgingJson(
        String source, String sourceName, AsJudged said, Optional<KeptFile> mapping, Map<Role, KeptFile> texts) {
    private static final int FORMAT = 1;

    /** A text in the bag and the name that it had. */
    record KeptFile(String path, String name) {}

    byte[] bytes() {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (Writer out = new OutputStreamWriter(bytes, StandardCharsets.UTF_8)) {
            write(new JsonWriter(out));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private void write(JsonWriter json) {
        json.object().field("format", FORMAT);
        json.object("source").field("file", source).field("name", sourceName).endObject();
        json.field("unit", said.unit());
        json.field("sense", said.sense());
        json.field("firstSprocket", said.firstSprocket());
        json.field("bandDeg", said.bandDeg());
        json.field("periodsPerTurn", said.periodsPerTurn());
        json.texts("columns", said.columns());
        json.texts("scales", said.scales());
        mapping.ifPresentOrElse(
                kept -> json.object("mapping")
                        .field("file", kept.path())
                        .field("name", kept.name())
                        .endObject(),
                () -> json.nothing("mapping"));
        json.array("texts");
        texts.forEach((role, kept) -> json.object()
                .field("role", role.word())
                .field("file", kept.path())
                .field("name", kept.name())
                .endObject());
        json.endArray().endObject().end();
    }

    /**
     * Reads it back.
     *
     * @throws BadInput where it is none, or of a later format
     */
    static JudgingJson read(byte[] bytes) {
        JsonNode root;
        try {
            root = JsonMapper.shared().readTree(bytes);
        } catch (JacksonException e) {
            throw bad(
                    "is no JSON document (" + e.getOriginalMessage() + "); was it changed? 'shiftstand verify' tells");
        }
        if (root.path("format").asInt(0) != FORMAT) {
            throw bad("has format " + root.path("format") + "; this program reads format " + FORMAT
                    + ". Use the version that the bag names in software.json, or a later one");
        }
        return new JudgingJson(
                text(root.path("source"), "file"),
                simpleName(text(root.path("source"), "name")),
                new AsJudged(
                        optional(root, "unit"),
                        optional(root, "sense"),
                        whole(root, "firstSprocket"),
                        number(root, "bandDeg"),
                        whole(root, "periodsPerTurn"),
                        list(root.path("columns")),
                        list(root.path("scales")),
                        Optional.empty()),
                root.path("mapping").isObject() ? Optional.of(kept(root.path("mapping"))) : Optional.empty(),
                texts(root.path("texts")));
    }

    private static Map<Role, KeptFile> texts(JsonNode array) {
        Map<Role, KeptFile> texts = new EnumMap<>(Role.class);
        for (JsonNode node : array) {
            String word = text(node, "role");
            Role role = List.of(Role.values()).stream()
                    .filter(r -> r.word().equals(word))
                    .findFirst()
                    .orElseThrow(
                            () -> bad(
                                    "has a text for the role '" + word
                                            + "', which this program does not know; use the version that the bag names in software.json, or a later one"));
            texts.put(role, kept(node));
        }
        return texts;
    }

    private static KeptFile kept(JsonNode node) {
        return new KeptFile(text(node, "file"), text(node, "name"));
    }

    private static String text(JsonNode node, String key) {
        return optional(node, key)
                .orElseThrow(() -> bad("has no text '" + key + "'; was it changed? 'shiftstand verify' tells"));
    }

    private static Optional<String> optional(JsonNode node, String key) {
        JsonNode value = node.path(key);
        return value.isString() ? Optional.of(value.stringValue()) : Optional.empty();
    }

    private static OptionalInt whole(JsonNode node, String key) {
        JsonNode value = node.path(key);
        return value.isInt() ? OptionalInt.of(value.intValue()) : OptionalInt.empty();
    }

    private static OptionalDouble number(JsonNode node, String key) {
        JsonNode value = node.path(key);
        return value.isNumber() ? OptionalDouble.of(value.doubleValue()) : OptionalDouble.empty();
    }

    private static List<String> list(JsonNode array) {
        List<String> texts = new ArrayList<>();
        array.forEach(node -> texts.add(node.asString()));
        return texts;
    }

    /** A file is made under this name: it must not lead out of its folder. */
    private static String simpleName(String name) {
        if (!name.matches("[^/\\\\\\p{Cntrl}]{1,200}") || name.equals(".") || name.equals("..")) {
            throw bad("names its source '" + name + "', which is no plain file name");
        }
        return name;
    }

    private static BadInput bad(String what) {
        return new BadInput(new Problem(BagNames.JUDGING, 0, 0, what));
    }
}
