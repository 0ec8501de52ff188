/**
 * Procedure runner, watchdog, safe stop.
 *
 * <p>In: a {@link org.shiftstand.link.Link}, and a procedure laid out flat. Out: a run record by way of a
 * {@link org.shiftstand.record.RunWriter}, and how the run ended. One single-threaded loop over the link, which owns
 * time: the same code drives a real rig in real time and a simulated one as fast as it goes. Every way out sends
 * {@code cut} before anything else and waits until the rig confirms it, where the link still lives. What is seen during
 * a run is provisional: no angle is measured and no verdict is given here.
 */
@NullMarked
package org.shiftstand.rig;

import org.jspecify.annotations.NullMarked;
