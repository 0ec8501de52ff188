package org.shiftstand.capture;

import java.nio.charset.StandardCharsets;

/** Decimal text to double, always the value that {@code Double.parseDouble} gives. */
final class Decimal {
    /** Powers of ten that a double holds exactly. */
    static final double[] POWERS = new double[23];

    /** Largest whole number below which every whole number is a double. */
    static final long EXACT = 1L << 53;

    static {
        double power = 1;
        for (int i = 0; i < POWERS.length; i++) {
            POWERS[i] = power;
            power *= 10;
        }
    }

    private Decimal() {}

    /**
     * {@code mantissa / 10^decimals}, correctly rounded: both operands are exact, so one division is (Clinger 1990).
     *
     * @param mantissa magnitude at most {@link #EXACT}
     * @param decimals 0 to 22
     */
    static double of(long mantissa, int decimals) {
        return decimals == 0 ? mantissa : mantissa / POWERS[decimals];
    }

    /** Whether the bytes are a plain decimal number: sign, digits with a point, exponent. No NaN, hex, or suffix. */
    static boolean isNumber(byte[] text, int from, int to) {
        int p = from;
        if (p < to && (text[p] == '-' || text[p] == '+')) {
            p++;
        }
        int digits = 0;
        while (p < to && isDigit(text[p])) {
            p++;
            digits++;
        }
        if (p < to && text[p] == '.') {
            p++;
            while (p < to && isDigit(text[p])) {
                p++;
                digits++;
            }
        }
        if (digits == 0) {
            return false;
        }
        return p == to || isExponent(text, p, to);
    }

    private static boolean isExponent(byte[] text, int from, int to) {
        int p = from;
        if (text[p] != 'e' && text[p] != 'E') {
            return false;
        }
        p++;
        if (p < to && (text[p] == '-' || text[p] == '+')) {
            p++;
        }
        int first = p;
        while (p < to && isDigit(text[p])) {
            p++;
        }
        return p == to && p > first;
    }

    /**
     * The value of text for which {@link #isNumber} holds; may be infinite.
     *
     * <p>Up to 15 digits and a moderate exponent take one exact operation; the rest goes to the library, which allocates.
     */
    static double parse(byte[] text, int from, int to) {
        int p = from;
        boolean negative = text[p] == '-';
        if (negative || text[p] == '+') {
            p++;
        }
        long mantissa = 0;
        int digits = 0;
        int zeros = 0; // at the end so far: 1.953125000000000000e-03 has seven digits
        int decimals = 0;
        boolean point = false;
        for (; p < to && text[p] != 'e' && text[p] != 'E'; p++) {
            if (text[p] == '.') {
                point = true;
                continue;
            }
            decimals += point ? 1 : 0;
            if (text[p] == '0') {
                zeros += mantissa == 0 ? 0 : 1;
                continue;
            }
            digits += zeros + 1;
            if (digits <= 18) {
                for (; zeros > 0; zeros--) {
                    mantissa *= 10;
                }
                mantissa = mantissa * 10 + (text[p] - '0');
            }
            zeros = 0;
        }
        int exponent = zeros - decimals;
        if (p < to) {
            exponent += exponent(text, p + 1, to);
        }
        if (digits <= 18 && mantissa <= EXACT && exponent >= -22 && exponent <= 22) {
            double value = exponent < 0 ? mantissa / POWERS[-exponent] : mantissa * POWERS[exponent];
            return negative ? -value : value;
        }
        return Double.parseDouble(new String(text, from, to - from, StandardCharsets.US_ASCII));
    }

    private static int exponent(byte[] text, int from, int to) {
        int p = from;
        boolean negative = text[p] == '-';
        if (negative || text[p] == '+') {
            p++;
        }
        int value = 0;
        for (; p < to; p++) {
            value = Math.min(value * 10 + (text[p] - '0'), 1_000_000);
        }
        return negative ? -value : value;
    }

    static boolean isDigit(byte b) {
        return b >= '0' && b <= '9';
    }
}
