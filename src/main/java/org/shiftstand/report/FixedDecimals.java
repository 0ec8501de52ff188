package org.shiftstand.report;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers with so many decimals, rounded half to even from their exact binary value. */
final class FixedDecimals {
    private static final long[] POWERS = {1, 10, 100, 1000, 10_000, 100_000, 1_000_000};
    /** Below this the product with a power of ten is off by less than {@link #NEAR_HALF}. */
    private static final double QUICK = 1e9;

    private static final double NEAR_HALF = 1e-6;

    private FixedDecimals() {}

    /**
     * The text of a number. The way over {@link BigDecimal} took most of the time of a long table; it is left for numbers
     * that are large, or so near the middle between two texts that one rounding could take the wrong one.
     *
     * @param value finite
     * @param decimals 1…6
     */
    static String text(double value, int decimals) {
        long power = POWERS[decimals];
        double scaled = Math.abs(value) * power;
        long below = (long) scaled;
        double rest = scaled - below;
        if (!(scaled < QUICK) || Math.abs(rest - 0.5) < NEAR_HALF) {
            return new BigDecimal(value)
                    .setScale(decimals, RoundingMode.HALF_EVEN)
                    .toPlainString();
        }
        long rounded = rest > 0.5 ? below + 1 : below;
        StringBuilder text = new StringBuilder(16);
        if (value < 0 && rounded != 0) {
            text.append('-'); // 0 has no sign, as in BigDecimal
        }
        text.append(rounded / power).append('.');
        String digits = Long.toString(rounded % power);
        return text.append("0".repeat(decimals - digits.length()))
                .append(digits)
                .toString();
    }
}
