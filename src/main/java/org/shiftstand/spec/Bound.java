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
public record Bound(OptionalDouble atLeast, OptionalDouble atMost, Unit unit) {}
