package org.shiftstand.planning;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Per;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Selection;
import org.shiftstand.spec.Supply;

/**
 * What a clause needs, and what a procedure gives it.
 *
 * @param each measured shifts that a group needs
 * @param groups how many groups there are; where each shift is its own, how many shifts
 * @param given shifts that the procedure, as it stands, gives the group with the fewest
 * @param cycles that the procedure must have; empty where no number is enough
 * @param seconds that so many cycles take; likewise
 * @param never why no number of cycles is enough; empty where some is
 */
public record ClauseNeeds(
        int each, int groups, int given, OptionalInt cycles, OptionalDouble seconds, Optional<String> never) {
    /** Shifts that all groups need together. */
    public int inAll() {
        return each * groups;
    }

    /** Whether the procedure, as it stands, gives every group enough. */
    public boolean supplied() {
        return never.isEmpty() && given >= each;
    }

    static ClauseNeeds of(Clause clause, Profile profile, Schedule schedule) {
        int each = clause.needed();
        Function<List<PlannedShift>, List<Supply.Group>> groups =
                plan -> groups(clause, Supply.selected(clause, plan, Optional.of(profile)), profile);
        List<Supply.Group> asItStands = groups.apply(schedule.plan(schedule.cycles()));
        int given = asItStands.stream()
                .mapToInt(group -> group.shifts().size())
                .min()
                .orElse(0);
        // later cycles may be the only ones that the clause is about
        int seen = Math.max(schedule.cycles(), lastCycleNamed(clause));
        List<Supply.Group> all = groups.apply(schedule.plan(seen));
        if (all.isEmpty()) {
            return never(each, 0, 0, "the procedure makes no shift that it selects");
        }
        boolean fixed = clause.per().contains(Per.EACH) || clause.per().contains(Per.CYCLE);
        int least = all.stream().mapToInt(group -> group.shifts().size()).min().orElse(0);
        if (fixed && least < each) {
            return never(
                    each,
                    all.size(),
                    given,
                    "a group never has more than its own " + (clause.per().contains(Per.EACH) ? "shift" : "cycle")
                            + " gives it");
        }
        OptionalInt cycles = fixed ? first(all) : enough(groups, schedule, all.size(), each, seen);
        return cycles.isPresent()
                ? new ClauseNeeds(
                        each,
                        all.size(),
                        given,
                        cycles,
                        OptionalDouble.of(schedule.seconds(cycles.getAsInt())),
                        Optional.empty())
                : never(each, all.size(), given, "the cycles that it selects are too few");
    }

    private static ClauseNeeds never(int each, int groups, int given, String why) {
        return new ClauseNeeds(each, groups, given, OptionalInt.empty(), OptionalDouble.empty(), Optional.of(why));
    }

    private static List<Supply.Group> groups(Clause clause, List<PlannedShift> selected, Profile profile) {
        if (!clause.per().contains(Per.EACH)) {
            return Supply.groups(clause, selected, profile.sprockets());
        }
        return selected.stream()
                .map(shift -> new Supply.Group(Map.of(), "each shift", List.of(shift)))
                .toList();
    }

    private static OptionalInt first(List<Supply.Group> groups) {
        return groups.stream()
                .flatMap(group -> group.shifts().stream())
                .mapToInt(PlannedShift::cycle)
                .min();
    }

    /** Fewest cycles by which every group has enough; each further round of the procedure gives at least as much. */
    private static OptionalInt enough(
            Function<List<PlannedShift>, List<Supply.Group>> groups,
            Schedule schedule,
            int howMany,
            int each,
            int seen) {
        List<PlannedShift> plan = schedule.plan(seen + each * schedule.cycles());
        Map<Map<String, String>, List<Integer>> cycles = new HashMap<>();
        for (Supply.Group group : groups.apply(plan)) {
            cycles.put(
                    group.key(),
                    new ArrayList<>(group.shifts().stream()
                            .map(PlannedShift::cycle)
                            .sorted()
                            .toList()));
        }
        if (cycles.size() < howMany || cycles.values().stream().anyMatch(of -> of.size() < each)) {
            return OptionalInt.empty();
        }
        return cycles.values().stream().mapToInt(of -> of.get(each - 1)).max();
    }

    private static int lastCycleNamed(Clause clause) {
        return clause.where().cycle().stream()
                .mapToDouble(Selection.Range::high)
                .filter(high -> high < Schedule.MOST_CYCLES)
                .mapToInt(high -> (int) high)
                .max()
                .orElse(0);
    }
}
