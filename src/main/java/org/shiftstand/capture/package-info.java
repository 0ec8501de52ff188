/**
 * Samples, sources of samples, CSV and its dialects.
 */
@NullMarked
package org.shiftstand.capture;

import org.jspecify.annotations.NullMarked;
