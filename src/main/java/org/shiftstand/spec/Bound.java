package org.shiftstand.spec;

import java.util.OptionalDouble;
import org.shiftstand.quantity.Unit;

/**
 * The limits of a clause, in the base unit of the measure; at least one of them.
 *
 * @param atLeast lower limit, inside
 * @param atMost upper limit, inside
 * @param unit the unit the author wrote, for messages
 */
public record Bound(OptionalDouble atLeast, OptionalDouble atMost, Unit unit) {
    /** The lower limit, or minus infinity. */
    public double low() {
        return atLeast.orElse(Double.NEGATIVE_INFINITY);
    }

    /** The upper limit, or infinity. */
    public double high() {
        return atMost.orElse(Double.POSITIVE_INFINITY);
    }

    /** Whether a value meets the limits; at a limit is inside. */
    public boolean holds(double value) {
        return low() <= value && value <= high();
    }

    /** Distance inside the nearer limit, negative outside; base unit. */
    public double margin(double value) {
        return Math.min(value - low(), high() - value);
    }
}
