package org.shiftstand.learn.compare;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.shiftstand.quantity.Unit;

/**
 * Numbers of one row in sentences: in the unit of its margin, with so many decimals that the width of the interval has two
 * significant digits, and a true minus sign.
 */
final class RowNumbers {
    private static final int MOST_DECIMALS = 6;
    private static final String MINUS = "\u2212";

    private final Unit unit;
    private final int decimals;

    /** @param width of an interval, base unit; 0 where there is none */
    RowNumbers(Unit unit, double width) {
        this.unit = unit;
        double shown = Math.abs(unit.fromBase(width));
        this.decimals = shown > 0 && Double.isFinite(shown)
                ? Math.max(0, Math.min(MOST_DECIMALS, 1 - (int) Math.floor(Math.log10(shown))))
                : 2;
    }

    String number(double base) {
        BigDecimal rounded = BigDecimal.valueOf(unit.fromBase(base)).setScale(decimals, RoundingMode.HALF_EVEN);
        return rounded.signum() < 0 ? MINUS + rounded.negate().toPlainString() : rounded.toPlainString();
    }

    String text(double base) {
        return number(base) + symbol();
    }

    /** As it was written: without decimals that say nothing. */
    String margin(double base) {
        return BigDecimal.valueOf(unit.fromBase(base))
                        .setScale(MOST_DECIMALS, RoundingMode.HALF_EVEN)
                        .stripTrailingZeros()
                        .toPlainString()
                + symbol();
    }

    private String symbol() {
        return unit.symbol().isEmpty() ? "" : " " + unit.symbol();
    }

    static String percent(double share) {
        double hundred = share * 100;
        if (hundred > 0 && hundred < 0.1) {
            return "less than 0.1 %";
        }
        return BigDecimal.valueOf(hundred)
                        .setScale(hundred > 99 || hundred < 1 ? 1 : 0, RoundingMode.HALF_EVEN)
                        .stripTrailingZeros()
                        .toPlainString()
                + " %";
    }

    static String shifts(long n) {
        return n + (n == 1 ? " shift" : " shifts");
    }
}
