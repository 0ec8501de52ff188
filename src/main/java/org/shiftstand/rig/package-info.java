/**
 * Procedure runner, watchdog, safe stop.
 */
@NullMarked
package org.shiftstand.rig;

import org.jspecify.annotations.NullMarked;
