/**
 * Simulated rig and unit with faults; own random numbers and truth.
 *
 * <p>In: the same bytes as a real rig gets, a {@code Profile} of the unit, a seed and the faults to inject
 * ({@code SimOptions}). Out: the same bytes as a real rig sends, and beside them the noise-free truth of every shift
 * ({@code SimTruth}), which never goes through the measuring code.
 *
 * <p>Promises: one seed gives one run, byte by byte, on every machine (StrictMath, own generator, fixed integration step,
 * whatever the block size or pace); nothing is allocated per sample; far faster than real time. One thread a simulation.
 * Does not measure, judge, print or wait, except {@code PtyRig}, which paces the same rig in real time on a thread of its own.
 */
@NullMarked
package org.shiftstand.sim;

import org.jspecify.annotations.NullMarked;
