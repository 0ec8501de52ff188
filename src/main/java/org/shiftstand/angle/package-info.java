/**
 * Hall pair to angle track: correction, unwrap, quality.
 */
@NullMarked
package org.shiftstand.angle;

import org.jspecify.annotations.NullMarked;
