package org.shiftstand.planning;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Decision;
import org.shiftstand.spec.Spec;

/**
 * A spec, explained.
 *
 * @param profile what it was laid out against; empty where none is known: then only demands are told
 * @param schedule the procedure; empty without a profile
 * @param plannedCycles cycles of the plan that chances are about; 0 without one
 * @param whole the spec's own chances; empty without a profile
 */
public record Explanation(
        Spec spec,
        Optional<Profile> profile,
        Optional<Schedule> schedule,
        int plannedCycles,
        Assumptions assumptions,
        List<ClauseExplanation> clauses,
        Optional<WholeSpec> whole) {
    public Explanation {
        clauses = List.copyOf(clauses);
    }

    /** Cycles that supply every clause that can be supplied; empty where none is known. */
    public OptionalInt cyclesForAll() {
        return clauses.stream()
                .flatMap(c -> c.needs().stream())
                .flatMapToInt(needs -> needs.cycles().stream())
                .max();
    }

    /** Clauses that no number of cycles supplies. */
    public List<String> neverSupplied() {
        return ClauseExplanation.neverSupplied(clauses);
    }

    /** Clauses whose bound a guard band moves on a real run; in the figures here it stands where it is written. */
    public List<String> guarded() {
        return clauses.stream()
                .map(ClauseExplanation::clause)
                .filter(c -> c.measure().isPresent() && c.decision().rule() == Decision.Rule.GUARDED)
                .map(Clause::id)
                .toList();
    }

    /** The clause that a stated bad unit slips through most easily; empty without curves. */
    public Optional<ClauseExplanation> weakest() {
        return clauses.stream()
                .filter(c -> c.curve().isPresent())
                .max(Comparator.comparingDouble(
                        c -> c.curve().orElseThrow().consumersRisk().share()));
    }
}
