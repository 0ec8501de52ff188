package org.shiftstand.report;

import java.math.BigDecimal;
import java.math.RoundingMode;

/** Numbers with so many decimals, rounded half to even from their exact binary value. */
final class FixedDecimals {
    private static final long[] POWERS = {1, 10, 100, 1000, 10_000, 100_000, 1_000_000};
    /** Below this the product with a power of ten keeps its whole part and its fraction exactly. */
    private static final double EXACT = 0x1p52;

    private FixedDecimals() {}

    /**
     * The text of a number. The way over {@link BigDecimal} took most of the time of a long table; it is left for numbers that
     * are large. What the product with the power of ten loses to rounding is found by a fused multiply-add, so that the side of
     * the middle between two texts is decided exactly.
     *
     * @param value finite
     * @param decimals 1…6
     */
    static String text(double value, int decimals) {
        long power = POWERS[decimals];
        double magnitude = Math.abs(value);
        double scaled = magnitude * power;
        if (!(scaled < EXACT)) {
            return new BigDecimal(value)
                    .setScale(decimals, RoundingMode.HALF_EVEN)
                    .toPlainString();
        }
        long below = (long) scaled;
        double beyondHalf = scaled - below - 0.5; // exact
        double lost = Math.abs(beyondHalf) > scaled * 0x1p-52
                ? 0 // less than decides
                : Math.fma(magnitude, power, -scaled); // exact: scaled + lost is the true product
        boolean up = beyondHalf > -lost || beyondHalf == -lost && (below & 1) != 0;
        long rounded = up ? below + 1 : below;
        StringBuilder text = new StringBuilder(16);
        if (value < 0 && rounded != 0) {
            text.append('-'); // 0 has no sign, as in BigDecimal
        }
        text.append(rounded / power).append('.');
        long fraction = rounded % power;
        for (long digit = power / 10; digit > 0; digit /= 10) {
            text.append((char) ('0' + fraction / digit % 10));
        }
        return text.toString();
    }
}
