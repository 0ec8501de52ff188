/**
 * Angles, durations, currents with their units: {@code 12 deg}, {@code 700 ms}.
 *
 * <p>In: text such as {@code 12 deg}. Out: a number with its unit, its value in the base unit of its dimension, and the
 * text back again. Numbers are read and printed the same in every locale: decimal point, no grouping. Knows nothing of
 * files; what is wrong with a text is said by {@link org.shiftstand.quantity.NotAQuantity}. No state, safe on any thread.
 */
@NullMarked
package org.shiftstand.quantity;

import org.jspecify.annotations.NullMarked;
