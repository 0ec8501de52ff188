/**
 * The run record: writing, recovery, sealing, reading.
 */
@NullMarked
package org.shiftstand.record;

import org.jspecify.annotations.NullMarked;
