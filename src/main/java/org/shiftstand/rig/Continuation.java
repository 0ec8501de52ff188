package org.shiftstand.rig;

import java.util.Map;

/**
 * Where a run that was broken off goes on.
 *
 * @param action index of the action to be done next; it may have been under way
 * @param lastMicros last sample there is, on the record's clock
 * @param offsetMicros what was added to the rig's clock before the break
 * @param anchorMicros the record's clock when it was last compared with UTC
 * @param anchorUtcMicros UTC then
 * @param cause why there was a break, for readers
 * @param counters as they stood; they go on from there
 */
public record Continuation(
        int action,
        long lastMicros,
        long offsetMicros,
        long anchorMicros,
        long anchorUtcMicros,
        String cause,
        Map<String, Long> counters) {
    public Continuation {
        counters = Map.copyOf(counters);
        if (action < 0) {
            throw new IllegalArgumentException("an action has an index from 0: action=" + action);
        }
    }
}
