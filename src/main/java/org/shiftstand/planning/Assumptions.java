package org.shiftstand.planning;

import java.util.OptionalDouble;

/**
 * What an explanation takes for granted.
 *
 * @param unit how a sound unit scatters
 * @param everywhere whether a bad unit is bad in every group; else in the one that is nearest to its bound
 * @param repetitions of each quality; above 0
 * @param seed of everything random
 * @param power wanted chance of a right verdict, in 0…1; empty where nobody asks how many cycles that takes
 */
public record Assumptions(SoundUnit unit, boolean everywhere, int repetitions, long seed, OptionalDouble power) {
    /** Enough for a few percent, within a few seconds for a usual spec. */
    public static final int USUAL_REPETITIONS = 200;

    public static final Assumptions USUAL =
            new Assumptions(SoundUnit.USUAL, false, USUAL_REPETITIONS, 1, OptionalDouble.empty());

    public Assumptions {
        if (repetitions < 1) {
            throw new IllegalArgumentException("repetitions are above 0: repetitions=" + repetitions);
        }
        if (power.isPresent() && !(power.getAsDouble() > 0 && power.getAsDouble() < 1)) {
            throw new IllegalArgumentException("a power lies between 0 and 1: power=" + power.getAsDouble());
        }
    }
}
