package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import org.shiftstand.quantity.Direction;

/**
 * Which shifts a clause is about; an empty list or option selects all.
 *
 * @param from ranges of sprockets
 * @param to ranges of sprockets
 * @param cycle ranges of cycles
 * @param step labels of procedure steps
 * @param supplyV ranges of supply voltages
 */
public record Selection(
        Optional<Direction> direction,
        List<Range> from,
        List<Range> to,
        List<Range> cycle,
        List<String> step,
        List<Range> supplyV) {
    /** Both ends inside. */
    public record Range(double low, double high) {
        public boolean holds(double x) {
            return low <= x && x <= high;
        }
    }
}
