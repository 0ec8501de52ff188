package org.shiftstand.spec;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** Numbers in sentences: base values as text in the unit that the author of a bound wrote. */
final class Figures {
    private static final int DIGITS = 4;
    private static final int ALL_DIGITS = 15;

    private final Unit unit;

    Figures(Unit unit) {
        this.unit = unit;
    }

    /** The author's unit; of counts always shifts or cycles, which a bare number means there. */
    static Unit shown(Clause clause) {
        return switch (clause.statistic().kind()) {
            case COUNT -> Unit.SHIFTS;
            case FIRST_FAILURE -> Unit.CYCLES;
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    PERCENTILE,
                    PROPORTION,
                    TOLERANCE_INTERVAL,
                    REPEATABILITY,
                    REVERSAL,
                    CAPABILITY,
                    DRIFT,
                    CHANGE_POINT,
                    EQUIVALENT_TO -> clause.bound().unit();
        };
    }

    /** A base value in the author's unit. */
    double in(double base) {
        return unit.fromBase(base);
    }

    OptionalDouble in(OptionalDouble base) {
        return base.isPresent() ? OptionalDouble.of(in(base.getAsDouble())) : base;
    }

    /**
     * Distance inside the bound in the author's unit, negative outside; from the bound as written, so that 721.5 ms is
     * 28.5 ms below 750 ms. Its sign is that of the comparison in base units, which decides.
     */
    double margin(double base, Bound bound) {
        double low =
                bound.atLeast().isPresent() ? in(base) - written(bound.atLeast().getAsDouble()) : Double.MAX_VALUE;
        double high = bound.atMost().isPresent() ? written(bound.atMost().getAsDouble()) - in(base) : Double.MAX_VALUE;
        double margin = Math.min(low, high);
        double decides = Math.min(
                base - bound.atLeast().orElse(Double.NEGATIVE_INFINITY),
                bound.atMost().orElse(Double.POSITIVE_INFINITY) - base);
        return decides < 0 == margin < 0 ? margin : in(decides);
    }

    /** A bound as it was written: 750 ms, not 750.0000000000001 ms; with all its digits where somebody wrote so many. */
    private double written(double base) {
        double rounded = Quantity.ofBase(base, unit).value();
        return unit.toBase(rounded) == base ? rounded : in(base);
    }

    /** Four significant digits, but never fewer than before the point: {@code 15.83 deg}, {@code 20481 deg}. */
    String text(double base) {
        return plain(in(base), DIGITS) + symbol(base);
    }

    /** As {@link #text(double)} without the unit. */
    String number(double base) {
        return plain(in(base), DIGITS);
    }

    /** As {@link #text}, with as many digits as it takes to tell the value from the limit that it breaks. */
    String text(double base, double brokenLimit) {
        String limit = plain(in(brokenLimit), ALL_DIGITS);
        for (int digits = DIGITS; digits < ALL_DIGITS; digits++) {
            String text = plain(in(base), digits);
            if (!text.equals(limit)) {
                return text + symbol(base);
            }
        }
        return plain(in(base), ALL_DIGITS + 2) + symbol(base);
    }

    /**
     * A distance from the bound, four significant digits but no more decimals than the value beside it has:
     * {@code 1.8 deg} beside {@code 15.8 deg}. Finer only where nothing would be left of it.
     */
    String distance(double base, double valueBase) {
        BigDecimal exact = rounded(in(base), DIGITS);
        int decimals = Math.max(0, rounded(in(valueBase), DIGITS).scale());
        BigDecimal beside = exact.scale() > decimals ? exact.setScale(decimals, RoundingMode.HALF_EVEN) : exact;
        return text(beside.signum() == 0 ? rounded(in(base), 2) : beside) + symbol(base);
    }

    /** {@code at most 14 deg}, {@code at least 60 deg}, {@code 230 to 340 deg}. */
    String bound(Bound bound) {
        if (bound.atLeast().isPresent() && bound.atMost().isPresent()) {
            return plain(in(bound.atLeast().getAsDouble()), ALL_DIGITS) + " to "
                    + limit(bound.atMost().getAsDouble());
        }
        return bound.atMost().isPresent()
                ? "at most " + limit(bound.atMost().getAsDouble())
                : "at least " + limit(bound.atLeast().orElseThrow());
    }

    /** {@code 1 shift}, {@code 20 shifts}. */
    static String shifts(int n) {
        return n + (n == 1 ? " shift" : " shifts");
    }

    private String limit(double base) {
        return plain(in(base), ALL_DIGITS) + symbol(base);
    }

    private String symbol(double base) {
        if (unit == Unit.SHIFTS) {
            return base == 1 ? " shift" : " shifts";
        }
        if (unit == Unit.CYCLES) {
            return base == 1 ? " cycle" : " cycles";
        }
        return unit.symbol().isEmpty() ? "" : " " + unit.symbol();
    }

    private static String plain(double value, int digits) {
        return text(rounded(value, digits));
    }

    private static BigDecimal rounded(double value, int digits) {
        BigDecimal exact = new BigDecimal(value);
        int before = exact.precision() - exact.scale();
        return exact.round(new MathContext(Math.max(digits, before)));
    }

    private static String text(BigDecimal value) {
        return value.signum() == 0 ? "0" : value.stripTrailingZeros().toPlainString();
    }
}
