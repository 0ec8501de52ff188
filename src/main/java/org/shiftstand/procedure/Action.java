package org.shiftstand.procedure;

/** What the runner does next: a procedure laid out flat against a profile. */
public sealed interface Action {
    /** @param volts above 0 */
    record SetSupply(double volts) implements Action {}

    /** Takes the supply away, the rig going on sampling; the next {@link SetSupply} arms it anew, and homing comes after. */
    record SupplyOff() implements Action {}

    record Home() implements Action {}

    /**
     * One request.
     *
     * @param cycle 1-based; a cycle is one repetition of a sweep, visit or walk
     * @param step label its own one, or such as {@code sweep-2}: kind and place among the procedure's steps
     * @param restS pause once the shift has come to rest, seconds
     */
    record RequestShift(int cycle, int from, int to, String step, double restS) implements Action {}

    record Pause(double seconds) implements Action {}
}
