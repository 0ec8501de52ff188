package org.shiftstand.learn;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/** A table of invented shifts, put together by hand; what is not said is not applicable. */
final class MadeShifts {
    private final List<Shift> shifts = new ArrayList<>();
    private final int sprockets;

    private MadeShifts(int sprockets) {
        this.sprockets = sprockets;
    }

    static MadeShifts of(int sprockets) {
        return new MadeShifts(sprockets);
    }

    MadeShifts shift(int cycle, int from, int to, Map<Measure, Double> values) {
        return shift(cycle, from, to, Outcome.LANDED, values);
    }

    MadeShifts shift(int cycle, int from, int to, Outcome outcome, Map<Measure, Double> values) {
        Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
        for (Measure measure : Measure.values()) {
            Double value = values.get(measure);
            measures.put(measure, value == null ? new Measured.NotApplicable() : new Measured.Value(value));
        }
        shifts.add(new Shift(
                shifts.size() + 1,
                cycle,
                from,
                to,
                Direction.of(to - from),
                outcome,
                Evidence.COMPLETE,
                false,
                false,
                Optional.empty(),
                OptionalDouble.empty(),
                measures,
                List.of()));
        return this;
    }

    Remeasured source(String name, String unit) {
        return new Remeasured(
                name,
                unit,
                new ShiftTable(
                        shifts,
                        sprockets,
                        20,
                        "forward",
                        "profile",
                        "made",
                        OptionalDouble.of(0),
                        false,
                        OptionalInt.empty(),
                        List.of()));
    }
}
