/**
 * Scripts of sweeps, as data.
 */
@NullMarked
package org.shiftstand.procedure;

import org.jspecify.annotations.NullMarked;
