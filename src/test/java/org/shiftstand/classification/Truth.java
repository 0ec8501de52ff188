package org.shiftstand.classification;

/**
 * What a unit really was, by its noise-free motion.
 *
 * <p>By the definitions an end-of-line run has no origin: its angles are aligned to the profile by their own landings. What
 * breaks the spec only when landings are counted from the true origin cannot be seen in such a run by anybody.
 *
 * @param beyond how far the worst value lies beyond its bound, in units of what a measurement may be off ({@link #ANGLE_DEG}
 *     and its like); negative inside; infinite for counts, which cannot be nearly broken
 * @param beyondFromOrigin the same with landings counted from the true origin
 * @param worst the worst value in words, with its distance from the bound
 */
record Truth(double beyond, double beyondFromOrigin, String worst) {
    /** About three times what angles at 512 Hz may be off: bias 0.1 deg, sd 0.15 deg. */
    static final double ANGLE_DEG = 0.5;

    /** One interval between samples at 512 Hz. */
    static final double TIME_S = 0.002;

    /** Twenty steps of the rig's current input: peaks lie between samples. */
    static final double CURRENT_A = 0.05;

    /** Nearer to a bound than a measurement is sure of, a unit is neither faulty nor good. */
    enum State {
        FAULTY,
        ONLY_FROM_ORIGIN,
        BORDERLINE,
        GOOD
    }

    State state() {
        if (beyond > 1) {
            return State.FAULTY;
        }
        if (beyondFromOrigin > 1) {
            return State.ONLY_FROM_ORIGIN;
        }
        return Math.max(beyond, beyondFromOrigin) < -1 ? State.GOOD : State.BORDERLINE;
    }
}
