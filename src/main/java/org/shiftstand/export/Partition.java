package org.shiftstand.export;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.document.TextFile;

/**
 * Where the files of a run belong: {@code kind=tarn-drive/date=2026-01-01}; {@code kind=unknown} without a profile, {@code
 * date=undated} for a capture.
 *
 * <p>Any text makes a safe name: every byte of its UTF-8 but letters, digits, {@code . _ -} is percent-encoded, and a long one is
 * cut with its digest behind.
 *
 * @param kind of the unit
 * @param began UTC of the first sample
 */
record Partition(Optional<String> kind, Optional<Instant> began) {
    // not Hive's own word for null: engines differ in whether they read that as null
    private static final String UNKNOWN = "unknown";
    private static final String UNDATED = "undated";
    /** File systems bear 255 bytes a name. */
    private static final int MOST = 150;

    static Partition of(RunFacts facts) {
        return new Partition(facts.unitKind(), facts.started());
    }

    Path in(Path dataset) {
        String date = began.map(at -> at.atZone(ZoneOffset.UTC).toLocalDate().toString())
                .orElse(UNDATED);
        return dataset.resolve("kind="
                        + kind.filter(text -> !text.isEmpty())
                                .map(Partition::encoded)
                                .orElse(UNKNOWN))
                .resolve("date=" + date);
    }

    private static String encoded(String text) {
        StringBuilder name = new StringBuilder();
        for (byte octet : text.getBytes(StandardCharsets.UTF_8)) {
            char c = (char) (octet & 0xff);
            boolean plain =
                    (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || "._-".indexOf(c) >= 0;
            name.append(plain ? String.valueOf(c) : String.format(Locale.ROOT, "%%%02X", (int) c));
        }
        return name.length() <= MOST
                ? name.toString()
                : cut(name.toString()) + "-" + TextFile.of("", text).sha256().substring(0, 16);
    }

    /** Never inside a percent sign's three characters. */
    private static String cut(String name) {
        String head = name.substring(0, MOST - 17);
        int percent = head.lastIndexOf('%');
        return percent > head.length() - 3 ? head.substring(0, percent) : head;
    }
}
