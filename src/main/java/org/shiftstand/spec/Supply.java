package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.Measure;

/** What a plan gives a clause: which of its shifts the clause selects, and how they fall into groups. */
public final class Supply {
    private Supply() {}

    /**
     * Planned shifts that a clause judges together.
     *
     * @param key as {@link GroupResult#key()}
     * @param words for sentences: {@code sprocket 4 inboard}; {@code the whole run} without a key
     */
    public record Group(Map<String, String> key, String words, List<PlannedShift> shifts) {
        public Group {
            key = Collections.unmodifiableMap(new LinkedHashMap<>(key)); // keeps the order of per
            shifts = List.copyOf(shifts);
        }
    }

    /** The planned shifts that a clause selects; of a hold or a return not those that the profile gives none. */
    public static List<PlannedShift> selected(Clause clause, List<PlannedShift> plan, Optional<Profile> profile) {
        var selector = new Selector(clause.where());
        return plan.stream()
                .filter(selector::takes)
                .filter(shift -> applies(clause, shift, profile))
                .toList();
    }

    /**
     * The groups that selected shifts fall into, in the order of their keys; none where each shift is its own group.
     *
     * @param sprockets N
     */
    public static List<Group> groups(Clause clause, List<PlannedShift> selected, int sprockets) {
        Map<GroupKey, List<PlannedShift>> groups = new TreeMap<>();
        selected.forEach(shift -> GroupKey.of(clause.per(), shift, sprockets)
                .ifPresent(key ->
                        groups.computeIfAbsent(key, k -> new ArrayList<>()).add(shift)));
        return groups.entrySet().stream()
                .map(group -> new Group(group.getKey().names(), group.getKey().words(), group.getValue()))
                .toList();
    }

    private static boolean applies(Clause clause, PlannedShift shift, Optional<Profile> profile) {
        boolean plateau = clause.measure()
                .filter(m -> m == Measure.HOLD || m == Measure.REST_HOLD || m == Measure.RETURN_RINGING)
                .isPresent();
        return !plateau
                || profile.flatMap(p -> new NominalShift(p, shift.from(), shift.to()).overtravels())
                        .orElse(true);
    }
}
