/**
 * Finding and measuring shifts.
 *
 * <p>In: an {@code AngleTrack}, degrees over seconds, and where known a {@code Profile}. Out: a {@code ShiftTable}, one
 * {@code Shift} for each request, in time order, with every measure as a number, the reason why there is none, or not
 * applicable. Start at {@code ShiftFinder}.
 *
 * <p>The way of the data: {@code TrackScan} reads the track once and hands runs of good samples to a {@code Trace};
 * {@code RestFinder} says where the shaft rests; {@code ShiftAssembler} decides what belongs to one shift;
 * {@code ShiftMeasurer} measures it on the track as decoded; then, over the list of shifts, {@code Turns} finds lost
 * turns again, {@code Numbering} and {@code Alignment} tell sprockets, sense and origin, {@code OutcomeRules} say what
 * the unit did, and {@code TableBuilder} puts it together.
 *
 * <p>Promises at 512 Hz on a 12-bit Hall pair: landing and overtravel with a bias of at most 0.1 deg and an sd of at
 * most 0.15 deg; hold with an sd of at most 0.5 ms; times from a request with a bias of at most 0.6 ms and an sd of at
 * most 0.8 ms. Memory follows the number of shifts and the length of the longest shift, not of the run. The table does
 * not depend on how the track comes in blocks. Not thread-safe. Knows nothing of specs or reports.
 */
@NullMarked
package org.shiftstand.shift;

import org.jspecify.annotations.NullMarked;
