package org.shiftstand.capture;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** The nearest valid word, for messages. */
final class Nearest {
    private Nearest() {}

    /** {@code " Did you mean 'x'?"}, or nothing where no word is near. */
    static String hint(String word, List<String> valid) {
        return of(word, valid).map(w -> " Did you mean '" + w + "'?").orElse("");
    }

    /** The word with the fewest edits (case, spaces, hyphens apart), if at most a third of its letters differ. */
    static Optional<String> of(String word, List<String> valid) {
        String best = "";
        int bestEdits = Integer.MAX_VALUE;
        for (String candidate : valid) {
            int edits = edits(plain(word), plain(candidate));
            if (edits < bestEdits) {
                bestEdits = edits;
                best = candidate;
            }
        }
        return bestEdits <= Math.max(1, word.length() / 3) ? Optional.of(best) : Optional.empty();
    }

    private static String plain(String word) {
        String text = word.strip().toLowerCase(Locale.ROOT).replace(' ', '_').replace('-', '_');
        return text.length() > 64 ? text.substring(0, 64) : text;
    }

    /** Levenshtein distance. */
    private static int edits(String a, String b) {
        int[] row = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            row[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int replace = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.min(replace, Math.min(row[j], row[j - 1]) + 1);
            }
        }
        return row[b.length()];
    }
}
