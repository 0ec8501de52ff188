/**
 * The run record: writing, recovery, sealing, reading.
 *
 * <p>In: blocks, events and gaps of one run as they come, through a {@link org.shiftstand.record.RunWriter}. Out: one
 * SQLite file whose tables {@code rig/RECORD.md} states, and {@link org.shiftstand.record.RunRecord}, which opens such a
 * file as a source of samples. One commit a block: after a power cut at most the last second is missing, and what is
 * there can be judged, and gone on with. Memory is independent of the number of samples. Writer and reader are used by one
 * thread each; a record may be read while it is written. {@link org.shiftstand.record.QueuedRunWriter} keeps a slow disk away
 * from whoever talks to the rig.
 *
 * <p>Never overwrites a record that exists or changes a finished one, never guesses what a damaged block held, and judges
 * nothing.
 */
@NullMarked
package org.shiftstand.record;

import org.jspecify.annotations.NullMarked;
