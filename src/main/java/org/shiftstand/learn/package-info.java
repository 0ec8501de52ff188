/**
 * Characterise, compare: what a good unit does, and whether another run does the same.
 *
 * <p>In: measured captures or records of one kind of unit ({@code judge.Measurement}). Out of characterising: a
 * {@code Learned}: positions, overtravel table, dwell, spread, each with its uncertainty, and what stayed undecided; from
 * it a profile, a draft spec and a firmware table. Out of comparing: for each measure, sprocket and direction whether two
 * runs are equivalent. Nothing is invented: a shift that was not seen is a gap in the table, named. Shifts that are held
 * back to prove a draft spec are never learned from. Pure; knows neither files nor renderings.
 */
@NullMarked
package org.shiftstand.learn;

import org.jspecify.annotations.NullMarked;
