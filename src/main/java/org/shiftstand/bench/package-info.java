/**
 * Rig description, calibrations, uncertainty budget, gauge result, as data.
 *
 * <p>In: a rig description file, read by {@link org.shiftstand.bench.RigDescriptionReader} with every problem at once. Out:
 * what is known of a rig before it is connected: its port, how it drives, its channels, the guards that cut the supply, and
 * when it was calibrated. Opens no port and drives nothing.
 */
@NullMarked
package org.shiftstand.bench;

import org.jspecify.annotations.NullMarked;
