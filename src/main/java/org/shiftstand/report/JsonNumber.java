package org.shiftstand.report;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/**
 * A double as JSON text: the shortest digits that read back as the same double, laid out as RFC 8785 section 3.2.2.3 asks.
 *
 * <p>Own code: what {@code Double.toString} prints differs between Java versions, and results must not.
 */
final class JsonNumber {
    private static final int SURE_DIGITS = 15; // any decimal of so many digits survives a double
    private static final int MOST_DIGITS = 17; // and so many tell any two doubles apart
    private static final double EXACT_INTEGERS = 1e15;

    private JsonNumber() {}

    /** @param value finite; negative zero prints as 0 */
    static String text(double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("JSON has no such number: value=" + value);
        }
        if (value == Math.rint(value) && Math.abs(value) < EXACT_INTEGERS) {
            return Long.toString((long) value);
        }
        return laidOut(shortest(value));
    }

    private static BigDecimal shortest(double value) {
        BigDecimal exact = new BigDecimal(value);
        int fewest = Math.abs(value) < Double.MIN_NORMAL ? 1 : SURE_DIGITS; // subnormals carry fewer digits
        for (int digits = fewest; digits < MOST_DIGITS; digits++) {
            // nearest first; beside a power of two only a neighbour may read back
            for (RoundingMode mode : new RoundingMode[] {RoundingMode.HALF_EVEN, RoundingMode.UP, RoundingMode.DOWN}) {
                BigDecimal rounded = exact.round(new MathContext(digits, mode));
                if (rounded.doubleValue() == value) {
                    return rounded.stripTrailingZeros();
                }
            }
        }
        return exact.round(new MathContext(MOST_DIGITS, RoundingMode.HALF_EVEN)).stripTrailingZeros();
    }

    private static String laidOut(BigDecimal number) {
        int before = number.precision() - number.scale(); // digits before the point
        if (before > -6 && before <= 21) {
            return number.toPlainString();
        }
        String digits = number.unscaledValue().abs().toString();
        String sign = number.signum() < 0 ? "-" : "";
        String fraction = digits.length() > 1 ? "." + digits.substring(1) : "";
        int exponent = before - 1;
        return sign + digits.charAt(0) + fraction + "e" + (exponent < 0 ? "-" : "+") + Math.abs(exponent);
    }
}
