package org.shiftstand.sim;

import java.util.List;

/** Instants at which something shall happen, one after the other. */
final class Due {
    static final long NEVER = Long.MAX_VALUE;

    private final long[] nanos;
    private int at;

    /** @param seconds in any order */
    Due(List<Double> seconds) {
        nanos = seconds.stream().mapToLong(s -> Math.round(s * 1e9)).sorted().toArray();
    }

    /** The next one; {@link #NEVER} after the last. */
    long nanos() {
        return at < nanos.length ? nanos[at] : NEVER;
    }

    /** Whether one is due by now: that one is then done. */
    boolean strikes(long now) {
        if (now < nanos()) {
            return false;
        }
        at++;
        return true;
    }
}
