/**
 * Whether a candidate does the same as a base: firmware acceptance, measure by measure.
 *
 * <p>In: measured runs of one unit on one set-up, one or more with the old firmware and one or more with the new, and margins
 * from clauses of the statistic {@code equivalent-to}. Out: a {@link org.shiftstand.learn.compare.Comparison}: for each
 * measure and group the difference with its interval, whether it is shown to be inside the margin, whether it is shown to be
 * there at all, or neither, and then how many more shifts would tell. Runs whose set-ups are unlike are refused by name. Pure
 * but for {@link org.shiftstand.learn.compare.ComparedRun#measure}, which reads samples; knows no renderings.
 *
 * <p><b>Errors, and how many comparisons bear on them.</b> With α = 1 − confidence (5 %):
 *
 * <ul>
 *   <li><i>Equivalent</i>, of one group: two one-sided tests at α each, so that it is wrongly said of a difference at the margin in
 *       at most α of comparisons.
 *   <li><i>Equivalent</i>, of everything: said only where every judged group is. To say it wrongly at least one group must be
 *       wrongly called equivalent, and already that one is in at most α of cases: an intersection–union test (Berger,
 *       Technometrics 24, 295–300, 1982), which holds α without any correction, whatever the groups depend on each other.
 *       The price is power: all groups have to succeed together, and the chance of that is told.
 *   <li><i>Different</i>, anywhere: of many groups some would differ by chance alone, so the tests of no difference are held
 *       together by Holm over all judged groups of all measures: of two firmwares that are the same, any group at all is
 *       called different in at most α of comparisons.
 *   <li>A difference shown to be there and shown to be inside the margin is <i>equivalent, though not the same</i>.
 * </ul>
 */
@NullMarked
package org.shiftstand.learn.compare;

import org.jspecify.annotations.NullMarked;
