package org.shiftstand.link;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;

/** Rows of a reference file below {@code /link}, without comments and header. */
final class ReferenceRows {
    private ReferenceRows() {}

    static List<String[]> of(String name) {
        try (InputStream in = Objects.requireNonNull(ReferenceRows.class.getResourceAsStream("/link/" + name), name)) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(l -> !l.startsWith("#"))
                    .skip(1)
                    .map(l -> l.split(",", -1))
                    .toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
