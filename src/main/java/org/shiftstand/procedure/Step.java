package org.shiftstand.procedure;

import java.util.List;
import java.util.OptionalInt;

/** One step of a procedure. {@code last} in a file is resolved against the profile when the script is laid out. */
public sealed interface Step {
    /** Sets the unit's supply, volts. */
    record Supply(double volts) implements Step {}

    /** Brings the unit to sprocket 1 by outboard requests until it no longer moves. */
    record Home() implements Step {}

    /**
     * A walk from one sprocket to another, one at a time.
     *
     * @param to empty for {@code last}
     * @param restS pause after each shift came to rest, seconds
     */
    record Sweep(int from, OptionalInt to, boolean andBack, int times, double restS) implements Step {}

    /** A list of sprockets visited in order, one step at a time. */
    record Visit(List<Integer> sprockets, int times, double restS) implements Step {}

    /** A seeded random walk of so many shifts between neighbours. */
    record RandomWalk(int shifts, long seed, double restS) implements Step {}

    /** A pause, seconds. */
    record Rest(double seconds) implements Step {}

    record Repeat(int times, List<Step> steps) implements Step {}
}
