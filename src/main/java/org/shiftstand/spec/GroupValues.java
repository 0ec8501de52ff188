package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.Sample;

/** What one group offers a clause: its values in base units with the shifts they come from, and what has none. */
final class GroupValues {
    /** Groups that a displaced shift would falsify: it did not start where its values are expected to. */
    static final Set<Measure> LANDING_AND_OVERTRAVEL =
            EnumSet.of(Measure.LANDING, Measure.LANDING_ERROR, Measure.OVERTRAVEL);

    private final List<Shift> shifts = new ArrayList<>();
    private final List<Double> values = new ArrayList<>();
    private final List<String> reasons = new ArrayList<>();
    private final int notMade;
    private int notApplicable;
    private int displaced;

    private GroupValues(int notMade) {
        this.notMade = notMade;
    }

    /** Of no shift yet. */
    static GroupValues none() {
        return new GroupValues(0);
    }

    /** For a clause on outcomes a value is 1 where the outcome counts and 0 where not. */
    static GroupValues of(Clause clause, Group group) {
        GroupValues collected = new GroupValues(group.notMade());
        Optional<Clause.OutcomeTest> test = clause.outcome();
        boolean needsThePlace = clause.needsThePlace();
        for (Shift shift : group.shifts()) {
            boolean unsure = needsThePlace && shift.sprocketsUnsure();
            if (test.isPresent()) {
                collected.addOutcome(shift, test.get(), unsure);
            } else {
                collected.addMeasure(shift, clause.measure().orElseThrow(), unsure);
            }
        }
        return collected;
    }

    private void addOutcome(Shift shift, Clause.OutcomeTest test, boolean unsure) {
        if (unsure) {
            reasons.add(Shift.SPROCKETS_UNSURE);
        } else if (shift.outcome() == Outcome.UNKNOWN) {
            reasons.add("outcome unknown, " + shift.evidence().word().replace('-', ' '));
        } else {
            add(shift, test.counts(shift.outcome()) ? 1 : 0);
        }
    }

    private void addMeasure(Shift shift, Measure measure, boolean unsure) {
        if (shift.displaced() && LANDING_AND_OVERTRAVEL.contains(measure)) {
            displaced++;
            return;
        }
        shift.get(measure).match(new Measured.Cases<Boolean>() {
            @Override
            public Boolean value(double value) {
                return unsure ? reasons.add(Shift.SPROCKETS_UNSURE) : add(shift, value);
            }

            @Override
            public Boolean notMeasured(String reason) {
                return reasons.add(reason);
            }

            @Override
            public Boolean notApplicable() {
                notApplicable++;
                return true;
            }
        });
    }

    /** One more value, after all others. */
    boolean add(Shift shift, double value) {
        values.add(value);
        return shifts.add(shift);
    }

    int n() {
        return values.size();
    }

    int notMeasured() {
        return reasons.size();
    }

    int notApplicable() {
        return notApplicable;
    }

    int displaced() {
        return displaced;
    }

    int notMade() {
        return notMade;
    }

    /** Everything that should have a value and has none. */
    int missing() {
        return reasons.size() + notMade;
    }

    /** Whether anything is left to judge once what does not apply is outside. */
    boolean selected() {
        return n() + missing() + displaced > 0;
    }

    /** Why values are missing: each reason once, in the order met. */
    List<String> reasons() {
        return reasons.stream().distinct().toList();
    }

    List<Shift> shifts() {
        return shifts;
    }

    double value(int i) {
        return values.get(i);
    }

    /** How many values count, in a clause on outcomes. */
    int hits() {
        return (int) values.stream().filter(value -> value == 1).count();
    }

    double[] values() {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }

    Sample sample() {
        return Sample.of(values());
    }

    /** The natural groups, each sprocket reached in one direction, by number, inboard first. */
    List<Natural> natural() {
        Map<Place, List<Integer>> groups =
                new TreeMap<>(Comparator.comparingInt(Place::to).thenComparing(Place::direction));
        for (int i = 0; i < shifts.size(); i++) {
            Shift shift = shifts.get(i);
            groups.computeIfAbsent(new Place(shift.to(), shift.direction()), k -> new ArrayList<>())
                    .add(i);
        }
        return groups.entrySet().stream()
                .map(group -> new Natural(
                        group.getKey().to(),
                        group.getKey().direction(),
                        group.getValue().stream().mapToDouble(values::get).toArray(),
                        group.getValue().stream().mapToInt(i -> i).toArray()))
                .toList();
    }

    private record Place(int to, Direction direction) {}

    /**
     * Shifts that differ by chance only: one sprocket, reached in one direction.
     *
     * @param values in time order
     * @param places of the values among all of the group
     */
    record Natural(int to, Direction direction, double[] values, int[] places) {
        Sample sample() {
            return Sample.of(values);
        }
    }
}
