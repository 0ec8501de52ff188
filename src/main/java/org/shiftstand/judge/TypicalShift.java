package org.shiftstand.judge;

import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.stats.Sample;

/**
 * What sensitivities need to know of the shifts of a run: medians over those that were measured.
 *
 * @param crossingDegPerS speed at which the shaft crosses the edges of the settle band; empty where nothing tells
 * @param restS how long it rests at a plateau
 * @param chargedS over how long charge and energy are counted
 * @param supplyV mean supply while current flows; empty where it is not recorded
 * @param chargeAs charge of one shift
 * @param farthestDeg landing that lies farthest from the origin of angles; 0 where there is none
 */
record TypicalShift(
        OptionalDouble crossingDegPerS,
        double restS,
        double chargedS,
        OptionalDouble supplyV,
        OptionalDouble chargeAs,
        double farthestDeg) {
    private static final double COUNTED_AFTER_SETTLING_S = 0.1; // by the definition of charge
    private static final double USUAL_REST_S = 0.15; // the least that counts as a rest
    private static final double USUAL_SHIFT_S = 1;

    /** Without a plateau nothing shows the end of a motion; it is a quarter as fast there as on the mean, or faster. */
    private static final double LATE_PART = 0.25; // common practice, no published source

    static TypicalShift of(ShiftTable table) {
        return new TypicalShift(
                crossing(table),
                median(table, s -> s.get(Measure.REST_HOLD).number()).orElse(USUAL_REST_S),
                median(table, s -> s.get(Measure.SETTLE_TIME).number()).orElse(USUAL_SHIFT_S)
                        + COUNTED_AFTER_SETTLING_S,
                median(
                        table,
                        s -> ratio(
                                s.get(Measure.ENERGY).number(),
                                s.get(Measure.CHARGE).number())),
                median(table, s -> s.get(Measure.CHARGE).number()),
                table.shifts().stream()
                        .map(s -> s.get(Measure.LANDING).number())
                        .flatMapToDouble(OptionalDouble::stream)
                        .map(Math::abs)
                        .max()
                        .orElse(0));
    }

    /** Hold within ± b less rest hold within ± b/2 is the time for b/2 twice. */
    private static OptionalDouble crossing(ShiftTable table) {
        OptionalDouble atPlateaus = median(
                table,
                s -> ratio(
                        OptionalDouble.of(table.bandDeg()),
                        difference(
                                s.get(Measure.HOLD).number(),
                                s.get(Measure.REST_HOLD).number())));
        if (atPlateaus.isPresent()) {
            return atPlateaus;
        }
        OptionalDouble mean = median(
                table,
                s -> ratio(
                        difference(
                                s.get(Measure.LANDING).number(),
                                s.get(Measure.START).number()),
                        s.get(Measure.TRAVEL_TIME).number()));
        return mean.isPresent() ? OptionalDouble.of(LATE_PART * mean.getAsDouble()) : mean;
    }

    private static OptionalDouble median(ShiftTable table, Function<Shift, OptionalDouble> of) {
        List<Shift> shifts = table.shifts();
        double[] values = shifts.stream()
                .map(of)
                .filter(OptionalDouble::isPresent)
                .mapToDouble(OptionalDouble::getAsDouble)
                .toArray();
        return Sample.of(values).median();
    }

    private static OptionalDouble difference(OptionalDouble a, OptionalDouble b) {
        return a.isPresent() && b.isPresent()
                ? OptionalDouble.of(Math.abs(a.getAsDouble() - b.getAsDouble()))
                : OptionalDouble.empty();
    }

    private static OptionalDouble ratio(OptionalDouble above, OptionalDouble below) {
        return above.isPresent() && below.isPresent() && below.getAsDouble() > 0
                ? OptionalDouble.of(above.getAsDouble() / below.getAsDouble())
                : OptionalDouble.empty();
    }
}
