/**
 * Statistics, on Commons Math.
 */
@NullMarked
package org.shiftstand.stats;

import org.jspecify.annotations.NullMarked;
