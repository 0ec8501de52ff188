/**
 * Angles, durations, currents with their units: {@code 12 deg}, {@code 700 ms}.
 */
@NullMarked
package org.shiftstand.quantity;

import org.jspecify.annotations.NullMarked;
