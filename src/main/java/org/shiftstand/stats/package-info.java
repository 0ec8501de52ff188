/**
 * Statistics, on Commons Math.
 *
 * <p>In: finite numbers of one unit. Out: a number, or nothing where a statistic does not exist (no values, one value
 * for a spread). Standard deviations use divisor n − 1 and two passes. Immutable, no state, deterministic: the order of
 * the values does not matter beyond rounding. Knows nothing of shifts, units or bounds.
 */
@NullMarked
package org.shiftstand.stats;

import org.jspecify.annotations.NullMarked;
