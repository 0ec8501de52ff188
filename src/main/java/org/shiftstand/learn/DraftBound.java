package org.shiftstand.learn;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;

/**
 * A bound as it is written, rounded outwards to a digit that is a twentieth of its room at most.
 *
 * @param low empty for none, in {@code unit}
 * @param high likewise
 */
record DraftBound(OptionalDouble low, OptionalDouble high, Unit unit) {
    private static final double PART = 20;

    /** @param middle what the room is counted from, base unit, between the ends */
    static DraftBound between(double lowBase, double highBase, double middle, Unit base) {
        Unit unit = Figure.unit(base);
        double step = step(unit.fromBase(Math.min(middle - lowBase, highBase - middle)));
        return new DraftBound(
                OptionalDouble.of(rounded(unit.fromBase(lowBase), step, RoundingMode.FLOOR)),
                OptionalDouble.of(rounded(unit.fromBase(highBase), step, RoundingMode.CEILING)),
                unit);
    }

    static DraftBound atMost(double highBase, double middle, Unit base) {
        Unit unit = Figure.unit(base);
        double step = step(unit.fromBase(highBase - middle));
        return new DraftBound(
                OptionalDouble.empty(),
                OptionalDouble.of(rounded(unit.fromBase(highBase), step, RoundingMode.CEILING)),
                unit);
    }

    static DraftBound atLeast(double lowBase, double middle, Unit base) {
        Unit unit = Figure.unit(base);
        double step = step(unit.fromBase(middle - lowBase));
        return new DraftBound(
                OptionalDouble.of(rounded(unit.fromBase(lowBase), step, RoundingMode.FLOOR)),
                OptionalDouble.empty(),
                unit);
    }

    private static double step(double room) {
        return room > 0 ? Math.pow(10, Math.max(-6, Math.floor(Math.log10(room / PART)))) : 0.1;
    }

    private static double rounded(double value, double step, RoundingMode mode) {
        int decimals = (int) Math.round(-Math.log10(step));
        // a ninth digit is of the arithmetic: 20 deg computed as 20.000000000000004 is not 21
        BigDecimal exact = BigDecimal.valueOf(value).setScale(Math.max(9, decimals), RoundingMode.HALF_EVEN);
        return exact.setScale(decimals, mode).doubleValue();
    }

    /** As a line of a clause. */
    String line() {
        if (low.isPresent() && high.isPresent()) {
            return "between: [" + text(low) + ", " + text(high) + "]";
        }
        return low.isPresent() ? "at-least: " + text(low) : "at-most: " + text(high);
    }

    private String text(OptionalDouble value) {
        return new org.shiftstand.quantity.Quantity(value.orElseThrow(), unit).toString();
    }
}
