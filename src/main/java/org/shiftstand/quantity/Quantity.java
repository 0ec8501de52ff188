package org.shiftstand.quantity;

/**
 * A number with its unit, as written: {@code 12 deg}, {@code 700 ms}.
 *
 * @param value the number, in {@code unit}; finite
 * @param unit the unit it was written in, kept so that messages repeat what the author wrote
 */
public record Quantity(double value, Unit unit) {
    public Quantity {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("a quantity must be finite: value=" + value);
        }
    }

    /** The value in the base unit of its dimension (deg, mm, s, A, V, As, J, Hz, degC, 1). */
    public double base() {
        return value * unit.inBase();
    }
}
