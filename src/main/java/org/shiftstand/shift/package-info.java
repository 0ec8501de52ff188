/**
 * Finding and measuring shifts.
 */
@NullMarked
package org.shiftstand.shift;

import org.jspecify.annotations.NullMarked;
