package org.shiftstand.capture;

import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import org.shiftstand.capture.Dialect.DecimalMark;
import org.shiftstand.capture.Dialect.Grouping;

/**
 * Reads numbers of a dialect exactly: a mantissa and a number of decimals where that fits, so that a change of unit or origin
 * only moves the point, and the double is the one nearest to the decimal.
 */
final class NumberText {
    private static final int MOST_SCALE = 400;

    private final byte point;
    private final byte group;
    private long mantissa;
    private int decimals;
    private boolean exact;
    private double value;
    private BigDecimal slow = BigDecimal.ZERO;
    private byte[] plain = new byte[64];

    NumberText(DecimalMark decimal, Grouping grouping) {
        point = decimal.mark();
        group = grouping.mark();
    }

    /** Reads the bytes, blanks around them left out; false where they are no finite number. */
    boolean read(byte[] text, int start, int end) {
        int from = start;
        int to = end;
        while (from < to && isBlank(text[from])) {
            from++;
        }
        while (to > from && isBlank(text[to - 1])) {
            to--;
        }
        return from < to && (plainly(text, from, to) || slowly(text, from, to));
    }

    private static boolean isBlank(byte b) {
        return b == ' ' || b == '\t';
    }

    private boolean plainly(byte[] text, int from, int to) {
        boolean negative = text[from] == '-';
        int p = negative ? from + 1 : from;
        long m = 0;
        int digits = 0;
        int behind = 0;
        boolean pointSeen = false;
        for (; p < to; p++) {
            byte c = text[p];
            if (c >= '0' && c <= '9') {
                m = m * 10 + (c - '0');
                digits++;
                behind += pointSeen ? 1 : 0;
            } else if (c == point && !pointSeen) {
                pointSeen = true;
            } else {
                return false;
            }
        }
        if (digits == 0 || digits > 18 || (negative && m == 0)) { // −0 keeps its sign on the slow way
            return false;
        }
        set(negative ? -m : m, behind);
        return true;
    }

    private void set(long m, int behind) {
        mantissa = m;
        decimals = behind;
        exact = true;
        value = nearest(m, behind);
    }

    /** The double nearest to {@code m / 10^behind}. */
    static double nearest(long m, int behind) {
        if (behind >= 0 && behind <= 22 && Math.abs(m) <= Decimal.EXACT) {
            return m < 0 ? -Decimal.of(-m, behind) : Decimal.of(m, behind);
        }
        return BigDecimal.valueOf(m, behind).doubleValue();
    }

    private boolean slowly(byte[] text, int from, int to) {
        if (to - from > 400) {
            return false;
        }
        if (plain.length < to - from) {
            plain = new byte[to - from];
        }
        int n = 0;
        int sinceGroup = -1; // digits since a grouping mark; −1 before the first
        boolean behindPoint = false;
        for (int p = from; p < to; p++) {
            byte c = text[p];
            if (group != 0 && c == group && !behindPoint && n > 0) {
                if (sinceGroup >= 0 ? sinceGroup != 3 : !mayStartGroups(n)) {
                    return false;
                }
                sinceGroup = 0;
                continue;
            }
            boolean digit = Decimal.isDigit(c);
            if (!digit && sinceGroup >= 0 && !behindPoint) {
                if (sinceGroup != 3) {
                    return false;
                }
                sinceGroup = -1;
            }
            sinceGroup += digit && sinceGroup >= 0 && !behindPoint ? 1 : 0;
            if (c == point) {
                if (behindPoint) {
                    return false;
                }
                behindPoint = true;
                plain[n++] = '.';
            } else if (c == '.' || c == ',') {
                return false;
            } else {
                behindPoint |= c == 'e' || c == 'E';
                plain[n++] = c;
            }
        }
        if ((sinceGroup >= 0 && !behindPoint && sinceGroup != 3) || !Decimal.isNumber(plain, 0, n)) {
            return false;
        }
        value = Decimal.parse(plain, 0, n);
        exact = false;
        if (!Double.isFinite(value)) {
            return false;
        }
        keepExactly(new String(plain, 0, n, StandardCharsets.US_ASCII));
        return true;
    }

    /** One to three digits, the first not 0: {@code 0.123} is a fraction, never a grouped number. */
    private boolean mayStartGroups(int n) {
        int sign = plain[0] == '-' || plain[0] == '+' ? 1 : 0;
        return n > sign && n - sign <= 3 && plain[sign] != '0';
    }

    private void keepExactly(String text) {
        BigDecimal number = new BigDecimal(text);
        if (Math.abs((long) number.scale()) > MOST_SCALE) {
            number = BigDecimal.valueOf(value); // 1e-999999999 is 0, and no number to subtract from
        }
        slow = number;
        if (value == 0 && text.startsWith("-")) {
            return; // −0 has no mantissa
        }
        BigDecimal shorter = number.stripTrailingZeros();
        BigDecimal whole = shorter.scale() < 0 && shorter.scale() > -19 ? shorter.setScale(0) : shorter;
        BigDecimal kept = number.scale() >= 0 && number.unscaledValue().bitLength() < 64 ? number : whole;
        if (kept.scale() >= 0 && kept.scale() <= 22 && kept.unscaledValue().bitLength() < 64) {
            mantissa = kept.unscaledValue().longValueExact();
            decimals = kept.scale();
            exact = true;
        }
    }

    /** The number with all its digits. */
    BigDecimal decimal() {
        return exact ? BigDecimal.valueOf(mantissa, decimals) : slow;
    }

    /** Whether the number is {@code mantissa / 10^decimals}. */
    boolean isExact() {
        return exact;
    }

    long mantissa() {
        return mantissa;
    }

    int decimals() {
        return decimals;
    }

    double value() {
        return value;
    }
}
