package org.shiftstand.document;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;

/** The word that somebody probably meant. */
public final class Nearest {
    private Nearest() {}

    /**
     * The candidate with the fewest edits (insert, delete, replace, swap of neighbours: Damerau's distance, optimal
     * string alignment), without regard to case; of equals the first. Empty where even that one needs more edits than a
     * third of the longer word, at least one.
     */
    public static Optional<String> to(String written, Collection<String> candidates) {
        String word = written.toLowerCase(Locale.ROOT);
        if (word.isEmpty() || word.length() > 80) {
            return Optional.empty(); // nothing to go by, or no slip of the hand
        }
        Optional<String> best = Optional.empty();
        int least = Integer.MAX_VALUE;
        for (String candidate : candidates) {
            int edits = edits(word, candidate.toLowerCase(Locale.ROOT));
            int allowed = Math.max(1, Math.max(word.length(), candidate.length()) / 3);
            if (edits <= allowed && edits < least) {
                best = Optional.of(candidate);
                least = edits;
            }
        }
        return best;
    }

    /** {@code  Did you mean 'x'?} with a leading space, or nothing. */
    public static String hint(String written, Collection<String> candidates) {
        return to(written, candidates)
                .map(word -> " Did you mean '" + word + "'?")
                .orElse("");
    }

    private static int edits(String a, String b) {
        int[][] d = new int[a.length() + 1][b.length() + 1];
        for (int i = 0; i <= a.length(); i++) {
            for (int j = 0; j <= b.length(); j++) {
                d[i][j] = i == 0 || j == 0 ? i + j : step(a, b, d, i, j);
            }
        }
        return d[a.length()][b.length()];
    }

    private static int step(String a, String b, int[][] d, int i, int j) {
        int same = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
        int edits = Math.min(Math.min(d[i - 1][j], d[i][j - 1]) + 1, d[i - 1][j - 1] + same);
        boolean swapped = i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1);
        return swapped ? Math.min(edits, d[i - 2][j - 2] + 1) : edits;
    }
}
