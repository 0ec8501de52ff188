package org.shiftstand.archive;

import java.util.Optional;
import java.util.regex.Pattern;

/** Paths in a bag: relative, of plain names, the same on every system. */
final class BagPath {
    static final String SIGNATURES = "signatures/";
    static final String NAMES = "names/";
    static final String PAYLOAD = "data/";

    /** What this program writes: letters, digits, {@code . _ -}; no segment begins with a dot, so none is . or .. */
    private static final Pattern PLAIN =
            Pattern.compile("[A-Za-z0-9_-][A-Za-z0-9._-]{0,99}(/[A-Za-z0-9_-][A-Za-z0-9._-]{0,99}){0,5}");

    private static final Pattern BESIDE = Pattern.compile("(signatures|names)/[a-z0-9][a-z0-9-]{0,60}\\.json");

    private BagPath() {}

    static boolean plain(String path) {
        return PLAIN.matcher(path).matches();
    }

    /** A signature or a name: what may come after a bag was made, and is in no manifest. */
    static boolean beside(String path) {
        return BESIDE.matcher(path).matches();
    }

    /** Why a path is no path of a bag; empty where it is one. */
    static Optional<Finding> wrong(String path) {
        if (plain(path)) {
            return Optional.empty();
        }
        boolean out = path.startsWith("/")
                || path.contains("\\")
                || path.contains(":")
                || path.matches("(.*/)?\\.\\.(/.*)?")
                || path.matches("(?i).*%(2e|2f|5c|00).*")
                || path.indexOf('\0') >= 0;
        return Optional.of(
                new Finding(
                        shown(path),
                        out ? Finding.Kind.ESCAPE : Finding.Kind.FORM,
                        out
                                ? "is a name that leads, or could lead, out of the bag; nothing was read there"
                                : "is no name of a file in a bag: letters, digits, '.', '_' and '-' in folders separated by '/'"));
    }

    /** For a message: without control characters, and not without end. */
    static String shown(String path) {
        String printable = path.replaceAll("\\p{Cntrl}", "?");
        return printable.length() > 120 ? printable.substring(0, 117) + "…" : printable;
    }
}
