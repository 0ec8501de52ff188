package org.shiftstand.sim;

import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.quantity.Direction;

/**
 * One fault with the shifts that it strikes. A cycle opens at each departure from sprocket 1; before the first it is 0.
 *
 * @param from sprocket left, empty for any
 * @param to sprocket asked for, empty for any
 * @param direction empty for both
 * @param fromCycle first cycle struck, 1-based; 0 strikes homing too
 * @param toCycle last cycle struck
 * @param amount in the unit of the kind
 * @param rate probability for each shift addressed, 0…1, drawn from the run's seed
 */
public record SimFault(
        FaultKind kind,
        OptionalInt from,
        OptionalInt to,
        Optional<Direction> direction,
        int fromCycle,
        int toCycle,
        double amount,
        double rate) {

    /** A fault that strikes every shift of every cycle, with its usual amount. */
    public static SimFault of(FaultKind kind) {
        return new SimFault(
                kind,
                OptionalInt.empty(),
                OptionalInt.empty(),
                Optional.empty(),
                1,
                Integer.MAX_VALUE,
                kind.usual(),
                1);
    }

    /** The same, striking only this pair. */
    public SimFault withPair(int from, int to) {
        return new SimFault(
                kind, OptionalInt.of(from), OptionalInt.of(to), direction, fromCycle, toCycle, amount, rate);
    }

    /** The same, striking only this direction. */
    public SimFault withDirection(Direction only) {
        return new SimFault(kind, from, to, Optional.of(only), fromCycle, toCycle, amount, rate);
    }

    /** The same, striking only these cycles, both included. */
    public SimFault withCycles(int first, int last) {
        return new SimFault(kind, from, to, direction, first, last, amount, rate);
    }

    /** The same with another amount, in the unit of the kind. */
    public SimFault withAmount(double other) {
        return new SimFault(kind, from, to, direction, fromCycle, toCycle, other, rate);
    }

    /** The same with another probability, 0…1. */
    public SimFault withRate(double other) {
        return new SimFault(kind, from, to, direction, fromCycle, toCycle, amount, other);
    }

    boolean addresses(int from, int to, Direction asked, int cycle) {
        return (this.from.isEmpty() || this.from.getAsInt() == from)
                && (this.to.isEmpty() || this.to.getAsInt() == to)
                && (direction.isEmpty() || direction.get() == asked)
                && cycle >= fromCycle
                && cycle <= toCycle;
    }
}
