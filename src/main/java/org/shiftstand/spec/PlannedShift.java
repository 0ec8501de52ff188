package org.shiftstand.spec;

import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;

/**
 * One shift that a procedure asks for: what the expected groups of a clause are made of.
 *
 * @param cycle cycle of the script, 1-based; 0 where nothing plans cycles, such as for a capture without a procedure:
 *     then the pair is expected at least once in whichever cycles there are
 */
public record PlannedShift(int cycle, int from, int to, Optional<String> step, OptionalDouble supplyV) {
    /** The way it goes. */
    public Direction direction() {
        return Direction.of(to - from);
    }
}
