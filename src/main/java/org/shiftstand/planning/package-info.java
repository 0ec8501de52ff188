/**
 * Explain, how many shifts.
 *
 * <p>In: a spec, a profile, a procedure, and how a sound unit is taken to scatter. Out: for each clause how many shifts it
 * needs, how long the procedure takes to deliver them, and its operating characteristic: the chance to pass over a quality
 * that is swept from good to bad. Chances are counted in seeded repetitions, each judged by
 * {@link org.shiftstand.spec.Evaluation} itself, so that every measure, statistic and rule that a spec may use is covered by
 * the code that will judge the unit. The same seed gives the same figures on every machine and with any number of threads.
 *
 * <p>Does not know a real unit: values are normal around what is nominal, independent from shift to shift and from measure
 * to measure. How wide they scatter is assumed; see {@link org.shiftstand.planning.SoundUnit}.
 */
@NullMarked
package org.shiftstand.planning;

import org.jspecify.annotations.NullMarked;
