package org.shiftstand.export;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.HexFormat;
import java.util.Locale;
import java.util.Optional;

/**
 * Where the files of a run belong: {@code kind=tarn-drive/date=2026-01-01}. What is not known is Hive's word for null, so that
 * engines read null and a date column stays a date column.
 *
 * <p>Any text makes a safe name: every byte of its UTF-8 but letters, digits, {@code . _ -} is percent-encoded, and a long one is
 * cut with its digest behind.
 *
 * @param kind of the unit
 * @param began UTC of the first sample
 */
record Partition(Optional<String> kind, Optional<Instant> began) {
    private static final String NULL = "__HIVE_DEFAULT_PARTITION__"; // Apache Hive, hive.exec.default.partition.name
    /** File systems bear 255 bytes a name. */
    private static final int MOST = 150;

    static Partition of(RunFacts facts) {
        return new Partition(facts.unitKind(), facts.started());
    }

    Path in(Path dataset) {
        String date = began.map(at -> at.atZone(ZoneOffset.UTC).toLocalDate().toString())
                .orElse(NULL);
        return dataset.resolve("kind=" + kind.map(Partition::encoded).orElse(NULL))
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
        if (name.isEmpty() || name.toString().equals(NULL)) {
            return "%5F" + name.substring(Math.min(1, name.length())); // never read as null
        }
        return name.length() <= MOST ? name.toString() : cut(name.toString()) + "-" + digest(text);
    }

    /** Never inside a percent sign's three characters. */
    private static String cut(String name) {
        String head = name.substring(0, MOST - 17);
        int percent = head.lastIndexOf('%');
        return percent > head.length() - 3 ? head.substring(0, percent) : head;
    }

    private static String digest(String text) {
        try {
            byte[] sha = MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8));
            return HexFormat.of().formatHex(sha, 0, 8);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }
}
