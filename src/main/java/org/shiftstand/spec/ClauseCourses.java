package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftTable;
import org.shiftstand.stats.Projection;

/** When the clauses of a spec would have failed, had the run ended earlier, and when they will if drifts go on. */
final class ClauseCourses {
    private final ShiftTable table;
    private final List<DriftGroup> drifts;

    private ClauseCourses(ShiftTable table, List<DriftGroup> drifts) {
        this.table = table;
        this.drifts = drifts;
    }

    static List<RunDrift.ClauseCourse> of(ShiftTable table, List<ClauseResult> clauses, List<DriftGroup> drifts) {
        ClauseCourses courses = new ClauseCourses(table, drifts);
        return clauses.stream().flatMap(result -> courses.of(result).stream()).toList();
    }

    private List<RunDrift.ClauseCourse> of(ClauseResult result) {
        Clause clause = result.clause();
        return clause.per().contains(Per.EACH) || clause.per().contains(Per.CYCLE) ? single(result) : followed(result);
    }

    /** Groups of a single shift or cycle have no course of their own: the first that failed. */
    private List<RunDrift.ClauseCourse> single(ClauseResult result) {
        Map<Integer, Integer> cycles = new HashMap<>();
        table.shifts().forEach(shift -> cycles.put(shift.number(), shift.cycle()));
        OptionalInt first = result.groups().stream()
                .filter(group -> group.verdict() == Verdict.FAIL)
                .flatMap(group -> group.shifts().stream())
                .mapToInt(number -> cycles.getOrDefault(number, Integer.MAX_VALUE))
                .min();
        return first.isEmpty()
                ? List.of()
                : List.of(new RunDrift.ClauseCourse(
                        result.clause().id(), Map.of(), first, Optional.empty(), OptionalInt.empty()));
    }

    private List<RunDrift.ClauseCourse> followed(ClauseResult result) {
        Map<Map<String, String>, GroupResult> judged = new HashMap<>();
        result.groups().forEach(group -> judged.put(group.key(), group));
        List<RunDrift.ClauseCourse> courses = new ArrayList<>();
        for (Group group : Group.of(result.clause(), table, List.of())) {
            GroupResult judgement = judged.get(group.key().names());
            // without a value there is nothing that could break the bound, such as errors without an origin
            if (judgement != null && judgement.value().isPresent()) {
                course(result.clause(), group).ifPresent(courses::add);
            }
        }
        return courses;
    }

    private Optional<RunDrift.ClauseCourse> course(Clause clause, Group group) {
        GroupValues values = GroupValues.of(clause, group);
        int needs = clause.needs().orElse(clause.statistic().kind().defaultNeeds());
        OptionalInt failed = Running.firstFailed(clause, values.shifts(), values.values(), needs);
        if (failed.isPresent()) {
            return Optional.of(new RunDrift.ClauseCourse(
                    clause.id(), group.key().names(), failed, Optional.empty(), OptionalInt.empty()));
        }
        return projected(clause, group.key().names(), values.shifts());
    }

    /** By the drift that leads to the bound first. */
    private Optional<RunDrift.ClauseCourse> projected(Clause clause, Map<String, String> key, List<Shift> shifts) {
        Optional<Projection> nearest = Optional.empty();
        OptionalInt leads = OptionalInt.empty();
        for (int i = 0; i < drifts.size(); i++) {
            if (drifts.get(i).shape() != DriftGroup.Shape.DRIFT) {
                continue; // a step need not go on
            }
            Optional<Projection> found = ClauseProjection.of(clause, shifts, drifts.get(i));
            if (found.isPresent()
                    && (nearest.isEmpty() || found.get().at() < nearest.get().at())) {
                nearest = found;
                leads = OptionalInt.of(i);
            }
        }
        return nearest.isEmpty()
                ? Optional.empty()
                : Optional.of(new RunDrift.ClauseCourse(clause.id(), key, OptionalInt.empty(), nearest, leads));
    }
}
