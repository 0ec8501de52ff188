package org.shiftstand.quantity;

import java.math.BigDecimal;
import java.math.MathContext;

/** Numbers as text, the same in every locale. */
public final class Decimal {
    private Decimal() {}

    /**
     * The shortest plain decimal that reads back as the same number: {@code 18}, {@code 0.06}; with an exponent only
     * beyond fifteen digits before the point or after it.
     *
     * @param value finite
     */
    public static String text(double value) {
        return text(new BigDecimal(Double.toString(value)));
    }

    /**
     * The same after rounding to so many significant digits, half to even.
     *
     * @param value finite
     * @param digits above 0
     */
    public static String text(double value, int digits) {
        return text(new BigDecimal(Double.toString(value)).round(new MathContext(digits)));
    }

    private static String text(BigDecimal value) {
        if (value.signum() == 0) {
            return "0"; // also for -0.0: a sign on nothing only puzzles readers
        }
        BigDecimal plain = value.stripTrailingZeros();
        int before = plain.precision() - plain.scale();
        return before > 15 || plain.scale() > 15 ? plain.toString() : plain.toPlainString();
    }
}
