package org.shiftstand.capture;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * What stands before the samples.
 *
 * @param preamble lines before the header row, or before the first sample where there is none
 * @param names of the columns, in order; {@code column-1} and so on without a header row
 * @param units of the columns where a row of units follows the names; empty text where it says none
 * @param line of the header row, 1-based; 0 without one
 */
record Heading(int preamble, List<String> names, List<String> units, int line) {
    /** Words that stand alone in a row of units. */
    private static final Set<String> UNITS = Set.of(
            "s", "sec", "ms", "us", "µs", "μs", "ns", "v", "mv", "a", "ma", "counts", "count", "lsb", "raw", "1", "-",
            "");

    Heading {
        names = List.copyOf(names);
        units = List.copyOf(units);
    }

    static List<String> numbered(int columns) {
        List<String> names = new ArrayList<>();
        for (int i = 1; i <= columns; i++) {
            names.add("column-" + i);
        }
        return names;
    }

    /** Names without the empty ones that a delimiter at the end of the row makes. */
    static List<String> trimmed(List<String> names) {
        int n = names.size();
        while (n > 1 && names.get(n - 1).isEmpty()) {
            n--;
        }
        return names.subList(0, n);
    }

    /** Whether all fields are units, brackets around them or not, and one at least says something. */
    static boolean areUnits(List<String> fields) {
        boolean some = false;
        for (String field : fields) {
            String unit = bare(field);
            if (!UNITS.contains(unit.toLowerCase(Locale.ROOT))) {
                return false;
            }
            some |= !unit.isEmpty() && !unit.equals("1") && !unit.equals("-");
        }
        return some;
    }

    /** A unit without brackets. */
    static String bare(String unit) {
        return unit.strip().replaceAll("^[\\[(]\\s*|\\s*[\\])]$", "");
    }
}
