package org.shiftstand.archive.run;

import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.report.JsonWriter;

/** {@code software.json}: the version that judged, and every library that was built into it, with its version. */
final class Software {
    /** {@code    org.group:artifact:jar:1.2.3:compile}, as the build writes it. */
    private static final Pattern LIBRARY =
            Pattern.compile("\\s+([^:\\s]+):([^:\\s]+):[^:\\s]+:(?:[^:\\s]+:)?([^:\\s]+):[a-z]+.*");

    private Software() {}

    /** The same bytes for the same build. */
    static byte[] json(String version) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (Writer out = new OutputStreamWriter(bytes, StandardCharsets.UTF_8)) {
            JsonWriter json = new JsonWriter(out);
            json.object().field("format", 1).field("name", "shiftstand").field("version", version);
            json.array("libraries");
            for (Matcher library : libraries()) {
                json.object()
                        .field("group", library.group(1))
                        .field("name", library.group(2))
                        .field("version", library.group(3))
                        .endObject();
            }
            json.endArray().endObject().end();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private static List<Matcher> libraries() throws IOException {
        try (InputStream in = Software.class.getResourceAsStream("dependencies.txt")) {
            if (in == null) {
                throw new IllegalStateException(
                        "the list of libraries is missing from the program: resource=dependencies.txt");
            }
            return new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))
                    .lines()
                    .map(LIBRARY::matcher)
                    .filter(Matcher::matches)
                    .toList();
        }
    }
}
