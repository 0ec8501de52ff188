package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.IntPredicate;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;

/**
 * Shifts that a clause judges together.
 *
 * @param shifts those that were made, in time order
 * @param planned how many a procedure asked for; 0 where only the pair is known to be expected
 */
record Group(GroupKey key, List<Shift> shifts, int planned) {
    /** Planned shifts that the run did not reach. */
    int notMade() {
        return Math.max(0, planned - shifts.size());
    }

    /**
     * The groups of a clause, in the order of their keys: those the plan expects, made or not, and those that were made
     * beyond it, since a shift that nobody planned is judged all the same.
     */
    static List<Group> of(Clause clause, ShiftTable table, List<PlannedShift> expected) {
        Selector selector = new Selector(clause.where());
        IntPredicate counts = sprocket -> clause.statistic().kind() != Statistic.Kind.REVERSAL
                || (sprocket > 1 && sprocket < table.sprockets()); // the outermost are reached from one side only
        List<Shift> made = table.shifts().stream()
                .filter(selector::takes)
                .filter(shift -> counts.test(shift.to()))
                .toList();
        List<PlannedShift> planned = expected.stream()
                .filter(selector::takes)
                .filter(shift -> counts.test(shift.to()))
                .toList();
        Map<GroupKey, Collected> groups = new TreeMap<>();
        Map<Kin, Optional<Collected>> known = new HashMap<>(); // of shifts alike the key is worked out once
        for (PlannedShift shift : planned) {
            known.computeIfAbsent(
                            Kin.of(clause.per(), shift),
                            kin -> GroupKey.of(clause.per(), shift, table.sprockets())
                                    .map(key -> groups.computeIfAbsent(key, k -> new Collected())))
                    .ifPresent(group -> group.planned += shift.cycle() > 0 ? 1 : 0);
        }
        known.clear(); // a planned shift that is no group does not say that a made one is none
        for (Shift shift : made) {
            known.computeIfAbsent(
                            Kin.of(clause.per(), shift),
                            kin -> Optional.of(groups.computeIfAbsent(
                                    GroupKey.of(clause.per(), shift, table.sprockets()), k -> new Collected())))
                    .ifPresent(group -> group.shifts.add(shift));
        }
        if (clause.per().contains(Per.EACH)) {
            addNotMade(groups, made, planned);
        }
        List<Group> sorted = new ArrayList<>();
        groups.forEach((key, group) -> sorted.add(new Group(key, List.copyOf(group.shifts), group.planned)));
        return sorted;
    }

    /** Where each shift is a group, a planned shift pairs with the first made one of its cycle and sprockets. */
    private static void addNotMade(Map<GroupKey, Collected> groups, List<Shift> made, List<PlannedShift> planned) {
        List<Shift> left = new ArrayList<>(made);
        int place = 0;
        for (PlannedShift shift : planned) {
            place++;
            boolean found = false;
            for (int i = 0; i < left.size() && !found; i++) {
                Shift candidate = left.get(i);
                if (candidate.cycle() == shift.cycle()
                        && candidate.from() == shift.from()
                        && candidate.to() == shift.to()) {
                    left.remove(i);
                    found = true;
                }
            }
            if (!found && shift.cycle() > 0) {
                Collected missing = new Collected();
                missing.planned = 1;
                groups.put(GroupKey.notMade(shift, place), missing);
            }
        }
    }

    /** What shifts of one group have in common at least. */
    private record Kin(int cycle, int from, int to, Direction direction, int number) {
        static Kin of(List<Per> per, PlannedShift shift) {
            return new Kin(per.contains(Per.CYCLE) ? shift.cycle() : 0, shift.from(), shift.to(), shift.direction(), 0);
        }

        static Kin of(List<Per> per, Shift shift) {
            return new Kin(
                    per.contains(Per.CYCLE) ? shift.cycle() : 0,
                    shift.from(),
                    shift.to(),
                    shift.direction(),
                    per.contains(Per.EACH) ? shift.number() : 0);
        }
    }

    private static final class Collected {
        private final List<Shift> shifts = new ArrayList<>();
        private int planned;
    }
}
