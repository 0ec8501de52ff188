/**
 * Sample source to shift table and verdict; live, again, verifying.
 *
 * <p>In: a sample source (a run record or a capture), a spec, a profile where there is one, and what the script planned.
 * Out: a judgement with everything that results and reports show, and the angle track behind it for drawings. The same
 * input gives the same judgement to the last digit; a stored shift table is never input. Memory is independent of the
 * number of samples. Blocking, one thread. {@link org.shiftstand.judge.JudgeInput} opens files; everything else is pure.
 * Writes nothing and knows neither rigs nor renderings.
 */
@NullMarked
package org.shiftstand.judge;

import org.jspecify.annotations.NullMarked;
