/**
 * Rig description, calibrations, uncertainty budget, gauge result, as data.
 */
@NullMarked
package org.shiftstand.bench;

import org.jspecify.annotations.NullMarked;
