package org.shiftstand.history;

import java.time.DateTimeException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.OptionalLong;
import org.shiftstand.archive.Digest;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.history.HistoryEntry.Clause;
import tools.jackson.core.JacksonException;
import tools.jackson.core.JsonParser;
import tools.jackson.core.JsonToken;
import tools.jackson.core.ObjectReadContext;
import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.json.JsonFactory;

/** Reads a {@code result.json} of any version as a stream; keeps what a history needs and skips the rest. */
final class ResultReader {
    private static final JsonFactory JSON = JsonFactory.builder()
            .streamReadConstraints(StreamReadConstraints.builder()
                    .maxNestingDepth(32)
                    .maxStringLength(1 << 20)
                    .build())
            .build();

    private static final List<String> VERDICTS = List.of("pass", "fail", "no-verdict");
    private static final int MOST_CLAUSES = 1000;
    private static final int MOST_TEXT = 1000;

    private final Map<String, String> texts = new LinkedHashMap<>();
    private final List<Clause> clauses = new ArrayList<>();
    private int shifts;
    private int landed;

    private ResultReader() {}

    /**
     * Reads one.
     *
     * @param name of the file, for messages
     * @param place where it was found
     * @throws BadInput where it is no result
     */
    static HistoryEntry read(byte[] result, String name, String place) {
        ResultReader reader = new ResultReader();
        try (JsonParser json = JSON.createParser(ObjectReadContext.empty(), result)) {
            if (json.nextToken() != JsonToken.START_OBJECT) {
                throw bad(name, "is no result of a run");
            }
            reader.members(json);
        } catch (JacksonException e) {
            throw bad(name, "is no result of a run (" + e.getOriginalMessage() + ")");
        }
        return reader.entry(Digest.hex(result), name, place);
    }

    private void members(JsonParser json) {
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            String member = json.currentName();
            JsonToken value = json.nextToken();
            if (value == JsonToken.START_OBJECT && member.equals("counts")) {
                counts(json);
            } else if (value == JsonToken.START_OBJECT
                    && List.of("identity", "source", "spec", "profile").contains(member)) {
                flat(member + ".", json, texts);
            } else if (value == JsonToken.START_ARRAY && member.equals("clauses")) {
                clauses(json);
            } else if (value.isScalarValue()) {
                put(texts, member, json);
            } else {
                json.skipChildren();
            }
        }
    }

    private static void put(Map<String, String> into, String member, JsonParser json) {
        if (json.currentToken() != JsonToken.VALUE_NULL) {
            String text = json.getString();
            into.put(member, text.length() > MOST_TEXT ? cut(text) : text);
        }
    }

    private static String cut(String text) {
        int end = MOST_TEXT - 1;
        return text.substring(0, Character.isHighSurrogate(text.charAt(end - 1)) ? end - 1 : end) + "…";
    }

    private static void flat(String prefix, JsonParser json, Map<String, String> into) {
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            String member = prefix + json.currentName();
            if (json.nextToken().isScalarValue()) {
                put(into, member, json);
            } else {
                json.skipChildren();
            }
        }
    }

    private void counts(JsonParser json) {
        while (json.nextToken() == JsonToken.PROPERTY_NAME) {
            String outcome = json.currentName();
            if (json.nextToken() == JsonToken.VALUE_NUMBER_INT) {
                shifts += json.getIntValue();
                landed += outcome.equals("landed") ? json.getIntValue() : 0;
            } else {
                json.skipChildren();
            }
        }
    }

    private void clauses(JsonParser json) {
        while (json.nextToken() == JsonToken.START_OBJECT) {
            Map<String, String> clause = new LinkedHashMap<>();
            String worst = "";
            while (json.nextToken() == JsonToken.PROPERTY_NAME) {
                String member = json.currentName();
                JsonToken value = json.nextToken();
                if (value == JsonToken.START_OBJECT && member.equals("bound")) {
                    flat("", json, clause);
                } else if (value == JsonToken.START_ARRAY && member.equals("groups")) {
                    worst = worst(json);
                } else if (value.isScalarValue()) {
                    put(clause, member, json);
                } else {
                    json.skipChildren();
                }
            }
            if (clause.containsKey("id") && clauses.size() < MOST_CLAUSES) {
                clauses.add(new Clause(
                        clause.getOrDefault("id", ""),
                        verdict(clause),
                        number(clause, "value"),
                        number(clause, "margin"),
                        clause.getOrDefault("unit", ""),
                        number(clause, "atLeast"),
                        number(clause, "atMost"),
                        worst));
            }
        }
    }

    /** Empty where it is none: a word that no column takes would keep every result behind it waiting. */
    private static String verdict(Map<String, String> clause) {
        String word = clause.getOrDefault("verdict", "");
        return VERDICTS.contains(word) ? word : "";
    }

    /** Key of the group with the smallest margin. */
    private static String worst(JsonParser json) {
        String worst = "";
        double least = Double.POSITIVE_INFINITY;
        while (json.nextToken() == JsonToken.START_OBJECT) {
            Map<String, String> group = new LinkedHashMap<>();
            Map<String, String> key = new LinkedHashMap<>();
            while (json.nextToken() == JsonToken.PROPERTY_NAME) {
                String member = json.currentName();
                JsonToken value = json.nextToken();
                if (value == JsonToken.START_OBJECT && member.equals("key")) {
                    flat("", json, key);
                } else if (value.isScalarValue()) {
                    put(group, member, json);
                } else {
                    json.skipChildren();
                }
            }
            double margin = number(group, "margin").orElse(Double.POSITIVE_INFINITY);
            if (margin < least) {
                least = margin;
                worst = String.join(
                        " ", key.entrySet().stream().map(ResultReader::said).toList());
            }
        }
        return worst;
    }

    /** {@code sprocket 4}; a direction says itself. */
    private static String said(Map.Entry<String, String> part) {
        return part.getKey().equals("direction") ? part.getValue() : part.getKey() + " " + part.getValue();
    }

    private static OptionalDouble number(Map<String, String> from, String member) {
        try {
            double value = Double.parseDouble(from.getOrDefault(member, ""));
            return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
        } catch (NumberFormatException e) {
            return OptionalDouble.empty(); // null in the document: not measured
        }
    }

    private HistoryEntry entry(String sha256, String name, String place) {
        List<String> missing = new ArrayList<>();
        for (String needed : List.of("verdict", "source.sha256", "spec.sha256", "spec.name")) {
            if (!texts.containsKey(needed)) {
                missing.add(needed);
            }
        }
        if (!missing.isEmpty() || !VERDICTS.contains(text("verdict"))) {
            throw bad(
                    name,
                    "is no result of a run"
                            + (missing.isEmpty() ? "" : ": it has no " + String.join(", no ", missing)));
        }
        String operator = text("identity.operator");
        return new HistoryEntry(
                HistoryEntry.key(text("source.sha256"), text("spec.sha256"), text("profile.sha256")),
                sha256,
                texts.getOrDefault("unit", ""),
                text("profile.name"),
                text("identity.unit-firmware"),
                texts.getOrDefault("identity.bench", text("identity.rig")),
                operator.matches("sha256:[0-9a-f]{64}") ? operator : "",
                texts.containsKey("identity.simulated"),
                started(),
                text("spec.name"),
                number(texts, "spec.version").isPresent()
                        ? (int) number(texts, "spec.version").getAsDouble()
                        : 0,
                text("verdict"),
                text("reason"),
                texts.getOrDefault("tool", text("identity.tool")),
                shifts,
                landed,
                clauses,
                place);
    }

    private String text(String member) {
        return texts.getOrDefault(member, "");
    }

    private OptionalLong started() {
        try {
            return OptionalLong.of(ChronoUnit.MICROS.between(Instant.EPOCH, Instant.parse(text("identity.started"))));
        } catch (DateTimeException | ArithmeticException e) {
            return OptionalLong.empty(); // a capture says no time
        }
    }

    private static BadInput bad(String name, String what) {
        return new BadInput(new Problem(name, 0, 0, what));
    }
}
