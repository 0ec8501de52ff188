package org.shiftstand.learn;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.quantity.Unit;

/** Learned numbers as text: in the unit that people read, no more digits than a capture can tell. */
final class Figure {
    private Figure() {}

    /** The unit that a value of this base unit is written in: milliseconds for seconds. */
    static Unit unit(Unit base) {
        return base == Unit.S ? Unit.MS : base;
    }

    /** To a tenth of a degree, a millisecond, else four digits, with its unit. */
    static String of(double base, Unit baseUnit) {
        Unit unit = unit(baseUnit);
        double value = unit.fromBase(base);
        return number(value, unit) + (unit.symbol().isEmpty() ? "" : " " + unit.symbol());
    }

    /** An angle to a tenth of a degree. */
    static String deg(double deg) {
        return of(deg, Unit.DEG);
    }

    /** A share as per cent, three digits: {@code 99.9 %}. */
    static String percent(double share) {
        return Decimal.text(share * 100, 3) + " %";
    }

    /** A spread: three digits, with its unit. */
    static String fine(double base, Unit baseUnit) {
        Unit unit = unit(baseUnit);
        return Decimal.text(unit.fromBase(base), 3) + (unit.symbol().isEmpty() ? "" : " " + unit.symbol());
    }

    /** Half-width as people write it; says so where it is not known. */
    static String plusMinus(double halfBase, Unit baseUnit) {
        return Double.isFinite(halfBase) ? "± " + of(halfBase, baseUnit) : "uncertainty not known";
    }

    /** An angle as a profile holds it: to a tenth of a degree. */
    static double profileDeg(double deg) {
        return Double.parseDouble(fixed(deg, 1));
    }

    /** A dwell as a profile holds it: to a millisecond, below ten of them to a tenth. */
    static double profileMs(double seconds) {
        return Double.parseDouble(number(seconds * 1000, Unit.MS));
    }

    private static String number(double value, Unit unit) {
        return switch (unit) {
            case DEG -> fixed(value, 1);
            case MS -> fixed(value, Math.abs(value) < 10 ? 1 : 0);
            default -> Decimal.text(value, 4);
        };
    }

    /** Half to even at so many decimals, none at the end that say nothing. */
    static String fixed(double value, int decimals) {
        BigDecimal rounded = new BigDecimal(Double.toString(value)).setScale(decimals, RoundingMode.HALF_EVEN);
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }
}
