package org.shiftstand.report;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;

/** The cautions that every report carries, from the one text that is also printed before motion. */
public final class Cautions {
    private static final String RESOURCE = "/cautions.txt";

    private Cautions() {}

    /** One caution a paragraph; paragraphs are apart by an empty line, or begin with a dash. */
    public static List<String> read() {
        try (InputStream in = Cautions.class.getResourceAsStream(RESOURCE)) {
            if (in == null) {
                throw new IllegalStateException("the cautions are not in this build: resource=" + RESOURCE);
            }
            return paragraphs(new String(in.readAllBytes(), StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException("the cautions cannot be read: resource=" + RESOURCE, e);
        }
    }

    static List<String> paragraphs(String text) {
        return Arrays.stream(text.replace("\r", "").split("\n\\s*\n|\n(?=[-*] )"))
                .map(p -> p.strip().replaceFirst("^[-*] ", "").replaceAll("\\s*\n\\s*", " "))
                .filter(p -> !p.isEmpty())
                .toList();
    }
}
