package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import org.shiftstand.profile.Profile;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.stats.Positioning;
import org.shiftstand.stats.Positioning.Position;
import org.shiftstand.stats.Sample;

/**
 * The landings of a run as positions of an axis, by ISO 230-2: a position is a sprocket, forward is inboard.
 *
 * @param sprockets in the order of {@code positioning}'s positions
 * @param positioning deviations in degrees
 * @param placed whether deviations count from nominal positions; else from each sprocket's own centre, and only R and B
 *     say something
 * @param leadMm of the screw, millimetres a turn; empty where the profile does not say
 */
public record AxisAccuracy(List<Integer> sprockets, Positioning positioning, boolean placed, OptionalDouble leadMm) {
    private static final double FULL_TURN_DEG = 360;

    public AxisAccuracy {
        sprockets = List.copyOf(sprockets);
    }

    /** Of shifts that landed, began on their sprocket and belong to the script; empty without any. */
    public static Optional<AxisAccuracy> of(ShiftTable table, Optional<Profile> profile) {
        Map<Integer, List<List<Double>>> landings = new TreeMap<>();
        for (Shift shift : table.shifts()) {
            OptionalDouble error = shift.get(Measure.LANDING_ERROR).number();
            if (shift.cycle() > 0 && !shift.displaced() && shift.outcome() == Outcome.LANDED && error.isPresent()) {
                landings.computeIfAbsent(shift.to(), k -> List.of(new ArrayList<>(), new ArrayList<>()))
                        .get(shift.direction() == Direction.INBOARD ? 0 : 1)
                        .add(error.getAsDouble());
            }
        }
        boolean placed = profile.isPresent()
                && (table.originMeasured() || table.alignmentDeg().isPresent());
        return landings.isEmpty()
                ? Optional.empty()
                : Optional.of(new AxisAccuracy(
                        List.copyOf(landings.keySet()),
                        new Positioning(landings.values().stream()
                                .map(both -> new Position(sample(both.get(0)), sample(both.get(1))))
                                .toList()),
                        placed,
                        profile.map(Profile::screwLeadMm).orElse(OptionalDouble.empty())));
    }

    private static Sample sample(List<Double> values) {
        return Sample.of(values.stream().mapToDouble(Double::doubleValue).toArray());
    }

    /** Degrees as millimetres of cage travel; empty where the lead or the angle is not known. */
    public OptionalDouble mm(OptionalDouble deg) {
        return leadMm.isPresent() && deg.isPresent()
                ? OptionalDouble.of(deg.getAsDouble() / FULL_TURN_DEG * leadMm.getAsDouble())
                : OptionalDouble.empty();
    }

    /**
     * A figure of the whole travel.
     *
     * @param symbol of the standard, such as {@code A↑}
     * @param key as {@code result.json} has it
     * @param deg empty where it cannot be had
     */
    public record Figure(String symbol, String key, String words, OptionalDouble deg) {}

    /** Of the whole travel; what needs nominal positions is empty without them. */
    public List<Figure> figures() {
        List<Figure> figures = new ArrayList<>();
        figure(figures, "A", "accuracy", "accuracy", positioning::accuracy, true);
        figure(figures, "E", "systematicDeviation", "systematic deviation", positioning::systematicDeviation, true);
        figure(figures, "R", "repeatability", "repeatability", positioning::repeatability, false);
        figures.add(new Figure("B", "reversal", "largest reversal", positioning.reversal()));
        figures.add(new Figure("B\u0304", "meanReversal", "mean reversal", positioning.meanReversal()));
        figures.add(new Figure(
                "M",
                "meanDeviation",
                "mean bidirectional deviation",
                placed ? positioning.meanDeviation() : OptionalDouble.empty()));
        return figures;
    }

    private void figure(
            List<Figure> figures,
            String symbol,
            String key,
            String words,
            java.util.function.Function<Positioning.Approach, OptionalDouble> of,
            boolean needsPlace) {
        for (Positioning.Approach approach : Positioning.Approach.values()) {
            String arrow = switch (approach) {
                case FORWARD -> "\u2191";
                case BACKWARD -> "\u2193";
                case BOTH -> "";
            };
            String suffix = switch (approach) {
                case FORWARD -> "Inboard";
                case BACKWARD -> "Outboard";
                case BOTH -> "";
            };
            String way = switch (approach) {
                case FORWARD -> ", inboard";
                case BACKWARD -> ", outboard";
                case BOTH -> ", both directions";
            };
            figures.add(new Figure(
                    symbol + arrow,
                    key + suffix,
                    words + way,
                    placed || !needsPlace ? of.apply(approach) : OptionalDouble.empty()));
        }
    }
}
