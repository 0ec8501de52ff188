package org.shiftstand.learn;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The whole numbers in which a firmware counts angles.
 *
 * @param unitsPerTurn of the gearbox output shaft, above 0
 * @param suffix for identifiers: {@code centideg} or {@code counts}
 */
public record FixedPoint(int unitsPerTurn, String suffix) {
    /** Hundredths of a degree. */
    public static final FixedPoint CENTIDEGREES = new FixedPoint(36_000, "centideg");

    private static final Pattern COUNTS = Pattern.compile("counts:([0-9]{1,9})");
    private static final int MOST_COUNTS = 1 << 24;

    public FixedPoint {
        if (unitsPerTurn < 1) {
            throw new IllegalArgumentException("units of a turn above 0: unitsPerTurn=" + unitsPerTurn);
        }
    }

    /**
     * Reads {@code centideg} or {@code counts:N}, N counts per turn of the output shaft: {@code counts:4096} for a 12-bit
     * sensor, {@code counts:65536} for turns in Q16.16.
     *
     * @throws IllegalArgumentException with what is wrong and what is expected
     */
    public static FixedPoint parse(String text) {
        if (text.equals(CENTIDEGREES.suffix())) {
            return CENTIDEGREES;
        }
        Matcher counts = COUNTS.matcher(text);
        if (counts.matches()) {
            int n = Integer.parseInt(counts.group(1));
            if (n >= 2 && n <= MOST_COUNTS) {
                return new FixedPoint(n, "counts");
            }
        }
        throw new IllegalArgumentException(
                "'" + text + "' is no angle unit of a firmware; expected centideg, or counts:N" + " with 2 to "
                        + MOST_COUNTS + " counts per turn of the output shaft, such as counts:4096");
    }

    /** An angle in these units, to the nearest, halves to even; may lie outside any integer type. */
    double of(double deg) {
        return Math.rint(deg * unitsPerTurn / 360);
    }

    /** For readers: what one unit is. */
    public String words() {
        return equals(CENTIDEGREES)
                ? "hundredths of a degree of the gearbox output shaft"
                : "counts, " + unitsPerTurn + " per turn of the gearbox output shaft";
    }
}
