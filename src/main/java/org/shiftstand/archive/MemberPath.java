package org.shiftstand.archive;

import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/** Paths of files in a bag: what format 1 allows, and why the rest is refused. */
final class MemberPath {
    /** Longest part between two slashes. */
    static final int MOST_SEGMENT = 100;

    /** Longest path with the top folder. */
    static final int MOST = 400;

    /** All of ASCII: by character is by byte, as {@code LC_ALL=C sort} does. */
    static final Comparator<String> ORDER = Comparator.naturalOrder();

    private static final Pattern SEGMENT = Pattern.compile("[A-Za-z0-9_][A-Za-z0-9._-]{0,99}");
    private static final Pattern DEVICE = Pattern.compile("(?i)(con|prn|aux|nul|com[0-9]|lpt[0-9])(\\..*)?");
    private static final Pattern SIGNATURE = Pattern.compile("signatures/[0-9]{3}-[a-z0-9][a-z0-9-]{0,63}\\.json");
    private static final Pattern NAME = Pattern.compile("names/[A-Za-z0-9_][A-Za-z0-9._-]{0,94}\\.json");

    private MemberPath() {}

    /** Why a path may not be in a bag; empty where it may. */
    static Optional<String> problem(String path) {
        return Optional.ofNullable(reason(path));
    }

    private static @org.jspecify.annotations.Nullable String reason(String path) {
        if (path.isEmpty()) {
            return "is no name at all";
        }
        if (path.startsWith("/")) {
            return "is an absolute path";
        }
        if (path.length() > MOST) {
            return "is longer than " + MOST + " characters";
        }
        if (path.indexOf('\\') >= 0) {
            return "holds a backslash, which some systems take for a folder";
        }
        if (path.length() > 1 && path.charAt(1) == ':') {
            return "begins with a drive";
        }
        if (path.indexOf('%') >= 0) {
            return "holds a percent sign; no name in this format needs one";
        }
        for (String segment : path.split("/", -1)) {
            if (segment.equals("..") || segment.equals(".")) {
                return "holds a step '" + segment + "', which leads elsewhere";
            }
            if (!SEGMENT.matcher(segment).matches()
                    || segment.endsWith(".")
                    || DEVICE.matcher(segment).matches()) {
                return "holds a part that is not 1 to 100 letters, digits, '.', '_' or '-' beginning with a letter, digit or"
                        + " '_', or that some system keeps for itself";
            }
        }
        return null;
    }

    /** Whether a file stands outside the manifests by right. */
    static boolean added(String path) {
        return SIGNATURE.matcher(path).matches() || NAME.matcher(path).matches();
    }

    /** The same for two names that some file systems cannot keep apart. */
    static String folded(String path) {
        return path.toLowerCase(Locale.ROOT);
    }

    /** A name as it may be printed: unprintable, non-ASCII and direction characters as {@code \}{@code uXXXX}, 120 characters. */
    static String shown(String name) {
        var text = new StringBuilder();
        for (int i = 0; i < name.length() && text.length() < 120; i++) {
            char c = name.charAt(i);
            if (c >= ' ' && c < 0x7F) {
                text.append(c);
            } else {
                text.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
            }
        }
        return text.isEmpty() ? "(no name)" : text.toString();
    }
}
