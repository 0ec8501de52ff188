/**
 * What a judged run leaves in a bag, and the same run judged again from it.
 *
 * <p>In: a run record or capture with the texts and options that it was judged by. Out: the payload of a bag; and, from the
 * payload alone, on any machine, the same judgement, held against the one that was archived. Nothing is taken from the folder
 * that the run was made in.
 */
@NullMarked
package org.shiftstand.archive.run;

import org.jspecify.annotations.NullMarked;
