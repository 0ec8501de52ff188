package org.shiftstand.cli;

import java.nio.file.Path;
import java.util.Locale;

/** What the mapping of a capture is called: its file's name without endings, as far as a name may hold it. */
final class MappingName {
    static final String ENDING = ".mapping.yaml";

    private static final int LONGEST = 48;

    private MappingName() {}

    static String of(Path capture) {
        Path name = capture.getFileName();
        String text = name == null ? "" : name.toString();
        String lower = text.toLowerCase(Locale.ROOT);
        for (String ending : new String[] {".gz", ".csv", ".txt", ".tsv", ".dat", ".log"}) {
            if (lower.endsWith(ending)) {
                lower = lower.substring(0, lower.length() - ending.length());
            }
        }
        String plain = text.substring(0, lower.length())
                .replaceAll("[^A-Za-z0-9_-]+", "-")
                .replaceAll("^-+|-+$", "");
        String shortened = plain.length() <= LONGEST ? plain : plain.substring(0, LONGEST);
        return shortened.isEmpty() ? "capture" : shortened;
    }
}
