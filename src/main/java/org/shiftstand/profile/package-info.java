/**
 * What is nominal for a kind of unit.
 *
 * <p>In: a profile file. Out: a {@link org.shiftstand.profile.Profile}: positions, overtravel table, hold, mechanical
 * limits, screw lead, tooth counts, in degrees, millimetres and seconds. {@link org.shiftstand.profile.ProfileReader}
 * refuses what cannot be a drive (positions out of order, limits inside the positions, overtravel past a limit), all of it
 * at once. Knows nothing of what a unit really did.
 */
@NullMarked
package org.shiftstand.profile;

import org.jspecify.annotations.NullMarked;
