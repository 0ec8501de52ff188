/**
 * Frames, codec, messages and serial port between host and rig; owns time.
 *
 * <p>In: {@link org.shiftstand.link.HostMessage}s, and bytes from a rig. Out: bytes for a rig, and
 * {@link org.shiftstand.link.Arrival}s. Layouts are those of {@code rig/WIRE.md}, byte by byte. A frame whose check sum
 * does not hold never becomes a message: it is counted and reported as damaged. Memory is bounded whatever the line
 * sends. A {@link org.shiftstand.link.Link} is used by one thread and is the only place where a run waits. Knows
 * nothing of procedures, records or the meaning of a sample.
 */
@NullMarked
package org.shiftstand.link;

import org.jspecify.annotations.NullMarked;
