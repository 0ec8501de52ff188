package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

/**
 * One demand on a unit.
 *
 * @param measure what is judged; empty for a clause on {@code outcome}
 * @param outcome for a clause on {@code outcome}: which shifts it counts; empty otherwise
 * @param where which shifts
 * @param per how they are grouped; empty means one group of all
 * @param needs measured shifts a group needs; empty means the statistic's default
 * @param mayMiss share of unmeasured shifts an estimator bears, 0…1
 * @param decision how the value is held against the bound
 * @param because the author's reason, for readers; empty where none
 * @param line line of the clause in the spec's text, 1-based, for messages
 */
public record Clause(
        String id,
        Optional<Measure> measure,
        Optional<OutcomeTest> outcome,
        Selection where,
        Statistic statistic,
        List<Per> per,
        Bound bound,
        OptionalInt needs,
        double mayMiss,
        Decision decision,
        String because,
        int line) {
    /** The same clause, its bound where it is written: for use where no uncertainty of measurement can be known. */
    public Clause unguarded() {
        Decision simple =
                new Decision(Decision.Rule.SIMPLE, decision.claim(), decision.confidence(), decision.falseAccept());
        return new Clause(id, measure, outcome, where, statistic, per, bound, needs, mayMiss, simple, because, line);
    }

    /** A clause with the usual decision. */
    public Clause(
            String id,
            Optional<Measure> measure,
            Optional<OutcomeTest> outcome,
            Selection where,
            Statistic statistic,
            List<Per> per,
            Bound bound,
            OptionalInt needs,
            double mayMiss,
            String because,
            int line) {
        this(id, measure, outcome, where, statistic, per, bound, needs, mayMiss, Decision.USUAL, because, line);
    }

    /**
     * Which outcomes a clause counts.
     *
     * @param outcomes the outcomes named
     * @param negated true for {@code is-not}
     */
    public record OutcomeTest(List<Outcome> outcomes, boolean negated) {
        public boolean counts(Outcome outcome) {
            return outcomes.contains(outcome) != negated;
        }
    }

    /** How many measured shifts a group needs: as the clause says, else the statistic's own number. */
    public int needed() {
        return needs.orElse(statistic.kind().defaultNeeds());
    }

    /** Whether it asks which sprockets, or which cycle, a shift belongs to: by its groups, its selection or its statistic. */
    boolean needsThePlace() {
        boolean grouped = per.contains(Per.SPROCKET) || per.contains(Per.PAIR) || per.contains(Per.CYCLE);
        boolean selected = !where.from().isEmpty()
                || !where.to().isEmpty()
                || !where.cycle().isEmpty();
        return grouped || selected || statistic.kind().bySprocket();
    }

    /** The measure's name as specs write it. */
    public String measureKey() {
        return measure.map(Measure::key).orElse("outcome");
    }
}
