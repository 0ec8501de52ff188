/**
 * Cassette planning: from the profile of a drive, positions for another number of sprockets, and whether there is room.
 *
 * <p>In: a profile, counts of sprockets, a pitch or the wish to keep the ends, and how the shifts of such a unit scatter. Out:
 * a {@link org.shiftstand.planning.cassette.CassettePlan}: for each count positions, an overtravel table carried over from
 * the profile's, and for each shift whether what it needs fits between its neighbours and the mechanical limits. What is not
 * known (spread, ringing, limits) is never taken for good: it leaves the verdict open, unless the rest alone has no room.
 *
 * <p>A plan is geometry. It knows nothing of chain, teeth and ramps: whether a carried overtravel moves a chain onto another
 * cassette is for learning on that cassette to prove.
 */
@NullMarked
package org.shiftstand.planning.cassette;

import org.jspecify.annotations.NullMarked;
