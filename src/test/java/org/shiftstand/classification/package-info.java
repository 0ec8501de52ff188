/**
 * Whole units through the whole chain, and whether their verdicts are right: simulated rig, record, judge, verdict.
 *
 * <p>In: a seed for each unit. Out: a confusion table. What a unit really was is read from the simulator's noise-free
 * motion and held against the spec's bounds by {@code TruthJudge}, which calls neither {@code angle} nor {@code shift} nor
 * the evaluation of specs. A usual test run classifies a few units ({@code ClassificationTest}); {@code src/bench/classify.sh}
 * does the campaign and writes {@code src/bench/CLASSIFICATION.md}.
 */
@org.jspecify.annotations.NullMarked
package org.shiftstand.classification;
