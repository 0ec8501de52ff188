package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/**
 * What one run offers a clause of the statistic {@code equivalent-to} in one group, to be held against another run.
 *
 * <p>Groups are formed as for any clause, but of what was made: what one run lacks the other shows. Overtravel is taken where
 * there is a plateau; how often there is none is a share of its own, and a zero among values near 300 would make a mean of
 * two things.
 *
 * @param key such as {@code sprocket → 4, direction → inboard}
 * @param words the same for sentences
 * @param cells values in base units, in time order, one list for each sprocket and direction of the group
 * @param hits of outcomes the shifts that count; of overtravel those that have a plateau
 * @param trials shifts of which it is known whether they count
 * @param notMeasured shifts that should have a value and have none
 * @param notApplicable shifts that have none by definition
 * @param displaced shifts that did not start on their sprocket and are left out
 */
public record ComparedGroup(
        Map<String, String> key,
        String words,
        List<Cell> cells,
        int hits,
        int trials,
        int notMeasured,
        int notApplicable,
        int displaced) {
    public ComparedGroup {
        cells = List.copyOf(cells);
    }

    /** Shifts onto one sprocket from one side, which differ by chance only; a final class since it carries an array. */
    public static final class Cell {
        private final String name;
        private final double[] values;

        Cell(String name, double[] values) {
            this.name = name;
            this.values = values;
        }

        /** The same for the same sprocket and direction. */
        public String name() {
            return name;
        }

        /** In time order. */
        public double[] values() {
            return values.clone();
        }

        public int n() {
            return values.length;
        }
    }

    /** How many values there are. */
    public int n() {
        return cells.stream().mapToInt(Cell::n).sum();
    }

    /** The groups of a run, in the order of their keys. */
    public static List<ComparedGroup> of(Clause clause, ShiftTable table) {
        return Group.of(clause, table, List.of()).stream()
                .map(group -> of(clause, group))
                .toList();
    }

    private static ComparedGroup of(Clause clause, Group group) {
        GroupValues values = GroupValues.of(clause, group);
        boolean plateaus = clause.measure().filter(m -> m == Measure.OVERTRAVEL).isPresent();
        List<Cell> cells = new ArrayList<>();
        int hits = clause.outcome().isPresent() ? values.hits() : 0;
        for (GroupValues.Natural natural : values.natural()) {
            double[] kept = plateaus ? withPlateau(natural.values()) : natural.values();
            hits += plateaus ? kept.length : 0;
            if (kept.length > 0) {
                cells.add(new Cell(natural.to() + " " + natural.direction().word(), kept));
            }
        }
        return new ComparedGroup(
                group.key().names(),
                group.key().words(),
                clause.outcome().isPresent() ? List.of() : cells,
                hits,
                values.n(),
                values.notMeasured(),
                values.notApplicable(),
                values.displaced());
    }

    /** By definition overtravel is exactly 0 without a plateau. */
    private static double[] withPlateau(double[] values) {
        return java.util.Arrays.stream(values).filter(value -> value != 0).toArray();
    }

    /** The supplies that a script set for its shifts, ascending. */
    public static List<Double> supplies(ShiftTable table) {
        return table.shifts().stream()
                .filter(shift -> shift.cycle() > 0)
                .map(Shift::supplyV)
                .filter(volts -> volts.isPresent())
                .map(volts -> volts.getAsDouble())
                .distinct()
                .sorted()
                .toList();
    }
}
