package org.shiftstand.planning;

/** How a unit gets worse. */
public enum Worsening {
    /** All values move by one amount. */
    BIAS,
    /** Single values lie farther apart. */
    SPREAD,
    /** Values of the two directions move apart, each by half. */
    REVERSAL,
    /** Values creep away over the run, in all by this amount. */
    DRIFT,
    /** Values jump in the middle of the run. */
    STEP,
    /** Shifts go wrong. */
    SHARE
}
