package org.shiftstand.archive.sign;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.erdtman.jcs.JsonCanonicalizer;
import tools.jackson.core.JacksonException;
import tools.jackson.core.StreamReadConstraints;
import tools.jackson.core.StreamReadFeature;
import tools.jackson.core.json.JsonFactory;
import tools.jackson.databind.DeserializationFeature;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Canonical JSON, RFC 8785. */
final class Canonical {
    /** Statements and names have a page of text at most. */
    static final int MOST_BYTES = 1 << 16;

    private static final JsonMapper STRICT = JsonMapper.builder(JsonFactory.builder()
                    .streamReadConstraints(StreamReadConstraints.builder()
                            .maxNestingDepth(8)
                            .maxStringLength(MOST_BYTES)
                            .build())
                    .enable(StreamReadFeature.STRICT_DUPLICATE_DETECTION)
                    .build())
            .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
            .build();

    private Canonical() {}

    /** The canonical bytes of a JSON document. */
    static byte[] bytes(JsonNode document) {
        try {
            return new JsonCanonicalizer(STRICT.writeValueAsString(document)).getEncodedUTF8();
        } catch (IOException e) {
            throw new IllegalStateException("a document of our own is no JSON", e);
        }
    }

    /**
     * Reads a file that must be the canonical form of what it says, ended by one line feed: then no byte of it is free, and what is
     * signed is what is read.
     *
     * @return empty where it is not
     */
    static Optional<JsonNode> read(byte[] file) {
        if (file.length > MOST_BYTES || file.length == 0 || file[file.length - 1] != '\n') {
            return Optional.empty();
        }
        try {
            String text = new String(file, 0, file.length - 1, StandardCharsets.UTF_8);
            JsonNode document = STRICT.readTree(text);
            return java.util.Arrays.equals(file, line(bytes(document))) ? Optional.of(document) : Optional.empty();
        } catch (JacksonException | IllegalStateException e) {
            return Optional.empty();
        }
    }

    /** With its line feed, as it is written to a file. */
    static byte[] line(byte[] canonical) {
        byte[] line = java.util.Arrays.copyOf(canonical, canonical.length + 1);
        line[canonical.length] = '\n';
        return line;
    }
}
