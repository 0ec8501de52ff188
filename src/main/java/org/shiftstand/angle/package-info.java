/**
 * Hall pair to angle track: correction, unwrap, quality.
 *
 * <p>In: a {@code SampleSource}. Out: an {@code AngleTrack}, degrees over seconds, with what lies between neighbours and
 * whether each sample is good. Pass 1 fits an ellipse (Heydemann 1981) and a second-order term from stretches of
 * near-constant speed, in fixed-size stores; each pass over the track decodes anew. Memory is independent of the length
 * of the run, the result of block sizes. On the bench captures landings come out within 0.1 degrees bias and 0.15
 * degrees standard deviation. Does not know the sense of rotation, sprockets or shifts.
 */
@NullMarked
package org.shiftstand.angle;

import org.jspecify.annotations.NullMarked;
