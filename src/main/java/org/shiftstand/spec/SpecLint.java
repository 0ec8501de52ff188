package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.shiftstand.document.Problem;
import org.shiftstand.profile.Profile;

/**
 * Says before a run what a spec cannot decide: clauses that a plan does not supply, and bounds that shut out the profile's
 * own nominal value.
 */
public final class SpecLint {
    private final String file;
    private final Optional<Profile> profile;
    private final Optional<List<PlannedShift>> plan;
    private final int sprockets;
    private final List<Problem> problems = new ArrayList<>();

    private SpecLint(String file, Optional<Profile> profile, Optional<List<PlannedShift>> plan) {
        this.file = file;
        this.profile = profile;
        this.plan = plan;
        this.sprockets = profile.map(Profile::sprockets)
                .orElseGet(() -> plan.stream()
                        .flatMap(List::stream)
                        .mapToInt(shift -> Math.max(shift.from(), shift.to()))
                        .max()
                        .orElse(0));
    }

    /**
     * Everything that a reader of a spec should be told, in the order of its clauses; empty when all is well.
     *
     * @param file the spec's name as the user gave it
     * @param profile the spec's; without one no nominal value is known
     * @param plan what a procedure asks for; without one nothing is said about supply
     */
    public static List<Problem> lint(
            String file, Spec spec, Optional<Profile> profile, Optional<List<PlannedShift>> plan) {
        var lint = new SpecLint(file, profile, plan);
        spec.clauses().forEach(lint::check);
        return List.copyOf(lint.problems);
    }

    private void check(Clause clause) {
        if (beyondTheCassette(clause)) {
            return;
        }
        plan.ifPresent(planned -> supply(clause, planned));
        profile.ifPresent(p -> new Nominal(clause, p, selected(clause, plan.orElseGet(() -> neighbours(p))), sprockets)
                .shutOut()
                .ifPresent(text -> add(clause, text)));
    }

    private boolean beyondTheCassette(Clause clause) {
        Optional<Integer> missing = Stream.concat(clause.where().from().stream(), clause.where().to().stream())
                .map(range -> (int) range.high())
                .filter(sprocket -> profile.isPresent() && sprocket > sprockets)
                .findFirst();
        missing.ifPresent(sprocket -> add(
                clause,
                "selects sprocket " + sprocket + "; expected 1 to " + sprockets + ", as the profile "
                        + profile.map(Profile::name).orElse("") + " has them"));
        return missing.isPresent();
    }

    private void supply(Clause clause, List<PlannedShift> planned) {
        List<PlannedShift> selected = selected(clause, planned);
        if (selected.isEmpty()) {
            add(
                    clause,
                    "the procedure makes no shift that it selects: it can only end without a verdict; expected a"
                            + " procedure that makes such shifts, or another 'where'");
            return;
        }
        int needs = clause.needed();
        if (clause.per().contains(Per.EACH)) {
            if (needs > 1) {
                add(
                        clause,
                        "each shift is a group of its own, but it needs " + Figures.shifts(needs)
                                + " in a group; expected needs of 1, or another grouping");
            }
            return;
        }
        List<Supply.Group> few = Supply.groups(clause, selected, sprockets).stream()
                .filter(group -> group.shifts().size() < needs)
                .toList();
        if (!few.isEmpty()) {
            Supply.Group first = few.get(0);
            String others = few.size() == 1
                    ? ""
                    : ", and too few to " + (few.size() - 1) + " further " + (few.size() == 2 ? "group" : "groups");
            add(
                    clause,
                    "needs " + Figures.shifts(needs) + " in each group, but the procedure gives "
                            + Figures.shifts(first.shifts().size()) + " to "
                            + first.words() + others
                            + ": it can only end without a verdict. Expected more cycles in the procedure, or less in 'needs'");
        }
    }

    private List<PlannedShift> selected(Clause clause, List<PlannedShift> planned) {
        return Supply.selected(clause, planned, profile);
    }

    /** Every shift between neighbours, as if no cycle, step or supply were asked for. */
    private static List<PlannedShift> neighbours(Profile profile) {
        var shifts = new ArrayList<PlannedShift>();
        for (int n = 1; n < profile.sprockets(); n++) {
            shifts.add(new PlannedShift(0, n, n + 1, Optional.empty(), OptionalDouble.empty()));
            shifts.add(new PlannedShift(0, n + 1, n, Optional.empty(), OptionalDouble.empty()));
        }
        return shifts;
    }

    private void add(Clause clause, String text) {
        problems.add(new Problem(file, clause.line(), 0, "clause " + clause.id() + ": " + text));
    }
}
