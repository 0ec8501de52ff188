package org.shiftstand.rig;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;

/** What a person must know before a unit is powered. The text is the resource {@code cautions.txt}; reports carry it too. */
public final class Cautions {
    /** Where the text lies on the class path: one caution a line, each after a dash; UTF-8. */
    public static final String RESOURCE = "/cautions.txt";

    private Cautions() {}

    /** One caution each, in order of weight. */
    public static List<String> lines() {
        try (InputStream in = Objects.requireNonNull(Cautions.class.getResourceAsStream(RESOURCE), RESOURCE)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(l -> !l.isBlank())
                    .map(l -> l.startsWith("- ") ? l.substring(2) : l)
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException("cannot read the cautions: resource=" + RESOURCE, e);
        }
    }
}
