package org.shiftstand.reference;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;

/** Figures as the table prints them: no more digits than are the same on every machine. */
final class FigureText {
    /** Processors differ in the last digits of sines and powers; a table held to the letter must not show those. */
    private static final int STEADY_DIGITS = 10;

    private FigureText() {}

    static String exact(double value) {
        return plain(BigDecimal.valueOf(value));
    }

    /** With as many digits as it takes to judge by the tolerance, and one more. */
    static String beside(double value, double within) {
        if (!Double.isFinite(value)) {
            return Double.toString(value);
        }
        BigDecimal exact = BigDecimal.valueOf(value);
        int decimals = within > 0 ? 1 - (int) Math.floor(Math.log10(within)) : STEADY_DIGITS;
        BigDecimal steady = exact.round(new MathContext(STEADY_DIGITS, RoundingMode.HALF_EVEN));
        return plain(steady.scale() > decimals ? steady.setScale(decimals, RoundingMode.HALF_EVEN) : steady);
    }

    /** The difference itself, two digits; below a hundredth of what is allowed only that, for the same reason. */
    static String difference(double off, double within) {
        if (!Double.isFinite(off)) {
            return Double.toString(off);
        }
        double least = within / 100;
        BigDecimal shown = BigDecimal.valueOf(Math.max(off, least)).round(new MathContext(2, RoundingMode.HALF_UP));
        return (off < least ? "< " : "") + plain(shown);
    }

    private static String plain(BigDecimal value) {
        if (value.signum() == 0) {
            return "0";
        }
        BigDecimal stripped = value.stripTrailingZeros();
        boolean readable = stripped.precision() - stripped.scale() <= 12 && stripped.scale() <= 12;
        return readable ? stripped.toPlainString() : stripped.toString();
    }
}
