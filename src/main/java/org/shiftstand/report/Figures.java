package org.shiftstand.report;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.time.Instant;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.shiftstand.quantity.Unit;

/** Numbers as readers see them: fixed digits by unit, a true minus sign, the unit after a no-break space. */
final class Figures {
    static final String MINUS = "\u2212";
    static final String NO_BREAK = "\u00a0";
    /** Stands where there is no number. */
    static final String NONE = "\u2013";

    /** A margin is shown with at least this many digits that count, so that none reads as zero. */
    private static final int MARGIN_DIGITS = 2;

    private static final int MOST_DECIMALS = 9;

    private Figures() {}

    /** Decimals that the accuracy of a quantity in this unit supports. */
    static int decimals(Unit unit) {
        return switch (unit) {
            case US, UM, MV, SHIFTS, CYCLES -> 0;
            case DEG, MS, PERCENT, DEG_C, HZ, MIN, MAH, MA -> 1;
            case MM, V -> 2;
            case TURN, H, ONE, AS, A, J, KHZ -> 3;
            case S -> 4;
        };
    }

    /** Decimals for a value and its margin: more than {@link #decimals} where the margin would else read as zero. */
    static int decimals(Unit unit, double margin) {
        int usual = decimals(unit);
        if (margin == 0 || !Double.isFinite(margin)) {
            return usual;
        }
        int leading = (int) Math.floor(Math.log10(Math.abs(margin)));
        return Math.max(usual, Math.min(MOST_DECIMALS, MARGIN_DIGITS - 1 - leading));
    }

    static String of(double value, Unit unit) {
        return of(value, unit, decimals(unit));
    }

    static String of(double value, Unit unit, int decimals) {
        String number = bare(value, decimals);
        boolean one = unit == Unit.SHIFTS && (number.equals("1") || number.equals(MINUS + "1"));
        return number + (one ? NO_BREAK + "shift" : symbol(unit));
    }

    /** With a plus sign where above zero. */
    static String signed(double value, Unit unit) {
        String text = of(value, unit);
        return value > 0 ? "+" + text : text;
    }

    /** As an author would write it: as few digits as the number has, at most twelve. */
    static String asWritten(double value, Unit unit) {
        return plain(new BigDecimal(value).round(new MathContext(12, RoundingMode.HALF_EVEN))) + symbol(unit);
    }

    static String asWritten(double value) {
        return asWritten(value, Unit.ONE);
    }

    static String bare(double value, int decimals) {
        if (!Double.isFinite(value)) {
            return NONE;
        }
        BigDecimal rounded = BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_EVEN);
        return rounded.signum() < 0 ? MINUS + rounded.negate().toPlainString() : rounded.toPlainString();
    }

    /** No-break space and symbol; nothing for a bare ratio. */
    static String symbol(Unit unit) {
        return switch (unit) {
            case ONE -> "";
            case DEG_C -> NO_BREAK + "\u00b0C";
            case UM -> NO_BREAK + "\u00b5m";
            case US -> NO_BREAK + "\u00b5s";
            case AS -> NO_BREAK + "A\u00b7s";
            case DEG, TURN, MM, S, MS, MIN, H, A, MA, V, MV, MAH, J, HZ, KHZ, PERCENT, SHIFTS, CYCLES ->
                NO_BREAK + unit.symbol();
        };
    }

    /** ISO 8601 in UTC, whole seconds. */
    static String utc(Instant instant) {
        return DateTimeFormatter.ISO_INSTANT.format(instant.truncatedTo(ChronoUnit.SECONDS));
    }

    /** {@code 24 shifts}, {@code 1 shift}. */
    static String count(long n, String one) {
        return n + NO_BREAK + (n == 1 ? one : one + "s");
    }

    /**
     * Ascending numbers with runs drawn together, such as {@code 3, 7–9, 12}; at most {@code most} runs, then how many
     * numbers were left out.
     */
    static String runs(List<Integer> ascending, int most) {
        StringBuilder out = new StringBuilder();
        int runs = 0;
        int i = 0;
        while (i < ascending.size() && runs < most) {
            int j = i;
            while (j + 1 < ascending.size() && ascending.get(j + 1) == ascending.get(j) + 1) {
                j++;
            }
            out.append(out.length() == 0 ? "" : ", ").append(ascending.get(i));
            if (j > i) {
                out.append(j == i + 1 ? ", " : "\u2013").append(ascending.get(j));
            }
            runs++;
            i = j + 1;
        }
        return i < ascending.size() ? out + " and " + (ascending.size() - i) + " more" : out.toString();
    }

    private static String plain(BigDecimal value) {
        BigDecimal bare = value.signum() == 0 ? BigDecimal.ZERO : value.stripTrailingZeros();
        return bare.signum() < 0 ? MINUS + bare.negate().toPlainString() : bare.toPlainString();
    }
}
