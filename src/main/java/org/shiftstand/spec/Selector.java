package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Shift;

/** Tells which shifts, made or planned, a selection takes. */
final class Selector {
    /** A supply comes from whole millivolts and may carry a rounding of binary fractions; this is far below one. */
    private static final double SUPPLY_SLACK_V = 1e-6;

    private final Selection where;

    Selector(Selection where) {
        this.where = where;
    }

    /** Shifts before the script's first cycle bring the unit home; no clause is about them. */
    boolean takes(Shift shift) {
        return shift.cycle() > 0
                && direction(shift.direction())
                && in(where.from(), shift.from())
                && in(where.to(), shift.to())
                && in(where.cycle(), shift.cycle())
                && step(shift.step())
                && supply(shift.supplyV());
    }

    /** A planned shift without a cycle is taken whatever cycles are asked for. */
    boolean takes(PlannedShift shift) {
        return direction(shift.direction())
                && in(where.from(), shift.from())
                && in(where.to(), shift.to())
                && (shift.cycle() == 0 || in(where.cycle(), shift.cycle()))
                && step(shift.step())
                && supply(shift.supplyV());
    }

    private boolean direction(Direction direction) {
        return where.direction().isEmpty() || where.direction().get() == direction;
    }

    private boolean step(Optional<String> step) {
        return where.step().isEmpty() || step.filter(where.step()::contains).isPresent();
    }

    private boolean supply(OptionalDouble volts) {
        if (where.supplyV().isEmpty() || volts.isEmpty()) {
            return where.supplyV().isEmpty();
        }
        double v = volts.getAsDouble();
        return where.supplyV().stream()
                .anyMatch(range -> range.low() - SUPPLY_SLACK_V <= v && v <= range.high() + SUPPLY_SLACK_V);
    }

    private static boolean in(List<Selection.Range> ranges, int x) {
        return ranges.isEmpty() || ranges.stream().anyMatch(range -> range.holds(x));
    }
}
