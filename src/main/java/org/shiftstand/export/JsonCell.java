package org.shiftstand.export;

import java.io.StringWriter;
import java.util.Map;
import java.util.Optional;
import tools.jackson.core.JsonGenerator;
import tools.jackson.core.ObjectWriteContext;
import tools.jackson.core.json.JsonFactory;

/** Names and texts as one JSON object in one cell, without spaces. */
final class JsonCell {
    private static final JsonFactory FACTORY = new JsonFactory();

    private JsonCell() {}

    /** In the map's order; empty for an empty map. */
    static Optional<String> object(Map<String, String> texts) {
        if (texts.isEmpty()) {
            return Optional.empty();
        }
        StringWriter text = new StringWriter();
        try (JsonGenerator json = FACTORY.createGenerator(ObjectWriteContext.empty(), text)) {
            json.writeStartObject();
            texts.forEach(json::writeStringProperty);
            json.writeEndObject();
        }
        return Optional.of(text.toString());
    }
}
