package org.shiftstand.quantity;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * A number with its unit, as written: {@code 12 deg}, {@code 700 ms}.
 *
 * @param value the number, in {@code unit}; finite
 * @param unit the unit it was written in, kept so that messages repeat what the author wrote
 */
public record Quantity(double value, Unit unit) {
    private static final Pattern NUMBER =
            Pattern.compile("[+-]?(?:[0-9]+(?:\\.[0-9]*)?|\\.[0-9]+)(?:[eE][+-]?[0-9]+)?");

    public Quantity {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("a quantity must be finite: value=" + value);
        }
    }

    /** The value in the base unit of its dimension (deg, mm, s, A, V, As, J, Hz, degC, 1). */
    public double base() {
        return unit.toBase(value);
    }

    /**
     * A base value in a unit of the same dimension, rounded to 12 digits so that {@code 0.57} is {@code 57 %} and not
     * {@code 56.99999999999999 %}.
     *
     * @param base finite, in the base unit
     */
    public static Quantity ofBase(double base, Unit unit) {
        double there = unit.fromBase(base);
        return new Quantity(there == 0 ? there : Double.parseDouble(Decimal.text(there, 12)), unit);
    }

    /**
     * A base value as its author wrote it: {@code 700}, not {@code 700.0000000000001}, in a unit of the same dimension; the
     * plain conversion where no such number gives it back exactly.
     *
     * @param base finite, in the base unit
     */
    public static double written(double base, Unit unit) {
        double rounded = ofBase(base, unit).value();
        return unit.toBase(rounded) == base ? rounded : unit.fromBase(base);
    }

    /** As people write it: {@code 12 deg}, {@code 95 %}, a bare number without a unit. */
    @Override
    public String toString() {
        return Decimal.text(value) + (unit.symbol().isEmpty() ? "" : " " + unit.symbol());
    }

    /**
     * Reads a number with its unit. Between the two any spaces or none; a number alone has the unit {@link Unit#ONE}.
     *
     * @throws NotAQuantity saying what is wrong and what is expected, with the nearest unit where there is one
     */
    public static Quantity parse(String text) {
        String trimmed = text.strip();
        Matcher number = NUMBER.matcher(trimmed);
        if (!number.lookingAt()) {
            throw new NotAQuantity(
                    "'" + text + "' is no number with a unit; expected one such as '18 deg' or '700 ms'");
        }
        String rest = trimmed.substring(number.end()).strip();
        if (rest.startsWith(",") && rest.length() > 1 && Character.isDigit(rest.charAt(1))) {
            throw new NotAQuantity(
                    "'" + text + "' has a comma in its number; expected a decimal point and no grouping: '"
                            + trimmed.replace(',', '.') + "'");
        }
        Unit unit = Unit.of(rest).orElseThrow(() -> unknownUnit(text, rest));
        double value = Double.parseDouble(number.group());
        if (!Double.isFinite(unit.toBase(value))) {
            throw new NotAQuantity("'" + text + "' is too large; expected a finite number");
        }
        return new Quantity(value, unit);
    }

    private static NotAQuantity unknownUnit(String text, String written) {
        Optional<Unit> meant = nearest(written);
        if (meant.isPresent()) {
            return new NotAQuantity("unknown unit '" + written + "' in '" + text + "'. Did you mean '"
                    + meant.get().symbol() + "'?");
        }
        return new NotAQuantity("unknown unit '" + written + "' in '" + text + "'; expected one of " + symbols());
    }

    private static String symbols() {
        return Arrays.stream(Unit.values())
                .map(Unit::symbol)
                .filter(symbol -> !symbol.isEmpty())
                .collect(Collectors.joining(", "));
    }

    /** By the words people use for it, then by its letters without regard to case, where only one unit has them. */
    private static Optional<Unit> nearest(String written) {
        String word = written.toLowerCase(Locale.ROOT);
        Optional<Unit> usual = usual(word);
        if (usual.isPresent()) {
            return usual;
        }
        var alike = Arrays.stream(Unit.values())
                .filter(unit -> !unit.symbol().isEmpty())
                .filter(unit -> unit.symbol().toLowerCase(Locale.ROOT).equals(word))
                .toList();
        return alike.size() == 1 ? Optional.of(alike.get(0)) : Optional.empty();
    }

    private static Optional<Unit> usual(String word) {
        return switch (word) {
            case "degree", "degrees", "degs", "deg.", "dge", "edg", "grad", "°", "º" -> Optional.of(Unit.DEG);
            case "turns", "rev", "revs", "revolution", "revolutions" -> Optional.of(Unit.TURN);
            case "millimetre", "millimetres", "millimeter", "millimeters" -> Optional.of(Unit.MM);
            case "µm", "μm", "micrometre", "micrometer", "micron", "microns" -> Optional.of(Unit.UM);
            case "sec", "secs", "second", "seconds" -> Optional.of(Unit.S);
            case "msec", "msecs", "millisecond", "milliseconds", "sm" -> Optional.of(Unit.MS);
            case "µs", "μs", "usec", "microsecond", "microseconds" -> Optional.of(Unit.US);
            case "mins", "minute", "minutes" -> Optional.of(Unit.MIN);
            case "hr", "hrs", "hour", "hours" -> Optional.of(Unit.H);
            case "amp", "amps", "ampere", "amperes" -> Optional.of(Unit.A);
            case "milliamp", "milliamps" -> Optional.of(Unit.MA);
            case "volt", "volts" -> Optional.of(Unit.V);
            case "millivolt", "millivolts" -> Optional.of(Unit.MV);
            case "c", "coulomb", "coulombs" -> Optional.of(Unit.AS);
            case "joule", "joules" -> Optional.of(Unit.J);
            case "hertz" -> Optional.of(Unit.HZ);
            case "°c", "celsius", "c°" -> Optional.of(Unit.DEG_C);
            case "percent", "pct" -> Optional.of(Unit.PERCENT);
            case "shift" -> Optional.of(Unit.SHIFTS);
            case "cycle" -> Optional.of(Unit.CYCLES);
            default -> Optional.empty();
        };
    }
}
