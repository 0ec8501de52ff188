package org.shiftstand.rig;

/** Tells when a value has been above a limit for a time without a break. A limit always has a duration: inrush is no fault. */
final class AboveFor {
    private final double limit;
    private final long forMicros;
    private long since = -1;

    /** @param limit in the unit of the samples; NaN or not above 0: never */
    AboveFor(double limit, double forS) {
        this.limit = limit > 0 ? limit : Double.NaN;
        this.forMicros = Math.round(forS * 1e6);
    }

    boolean sample(long atMicros, double value) {
        if (!(value > limit)) { // also NaN: no limit
            since = -1;
            return false;
        }
        if (since < 0) {
            since = atMicros;
        }
        return atMicros - since >= forMicros;
    }

    void reset() {
        since = -1;
    }
}
