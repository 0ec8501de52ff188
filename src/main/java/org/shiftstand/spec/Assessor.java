package org.shiftstand.spec;

import java.util.Optional;
import org.shiftstand.bench.Budget;
import org.shiftstand.bench.Budgets;
import org.shiftstand.stats.ProofOfConformity;

/**
 * Holds a group's value against the bound under the clause's rule and claim.
 *
 * <p>Claim {@code observed}: the value with its uncertainty of measurement; rule {@code guarded} passes inside the limits by
 * the guard band and fails outside by it (ISO 14253-1; JCGM 106:2012, 8.3). Claim {@code process}: the one-sided confidence
 * limits of the long-run value, sampling and measurement combined.
 */
final class Assessor {
    /** Where a value stands. */
    enum Place {
        /** Meets the bound, as surely as the decision asks. */
        INSIDE,
        /** Breaks it, as surely. */
        OUTSIDE,
        /** Neither is sure. */
        BETWEEN,
        /** Cannot be told: no budget, or too few values for a limit. */
        OPEN
    }

    /**
     * A value held against the bound.
     *
     * @param shown in base units
     * @param open why the place is open; empty otherwise
     */
    record Assessed(Place place, Assessment shown, String open) {}

    private final Clause clause;
    private final Optional<Budget> budget;
    private final boolean measured;
    private final double worth;

    /** @param worth effective over actual number of shifts of the clause's groups, above 0 to 1 */
    Assessor(Clause clause, Optional<Budgets> budgets, double worth) {
        this.worth = worth;
        this.clause = clause;
        this.budget = clause.measure().flatMap(measure -> budgets.flatMap(b -> b.of(measure.key())));
        // an outcome is told by whole half pitches: no quantity is measured, and no budget is needed
        this.measured = clause.measure().isPresent() && clause.statistic().kind() != Statistic.Kind.COUNT;
    }

    Assessed assess(GroupValues values, double value) {
        if (guarded() && measured && budget.isEmpty()) {
            return new Assessed(
                    Place.OPEN,
                    Assessment.NONE,
                    "rule guarded needs an uncertainty budget, and none is known; expected a rig description with one"
                            + " (judge --bench FILE)");
        }
        return clause.decision().claim() == Decision.Claim.PROCESS ? ofProcess(values) : observed(values, value);
    }

    private boolean guarded() {
        return clause.decision().rule() == Decision.Rule.GUARDED;
    }

    private Assessed observed(GroupValues values, double value) {
        if (budget.isEmpty() || !measured) {
            return new Assessed(clause.bound().holds(value) ? Place.INSIDE : Place.OUTSIDE, Assessment.NONE, "");
        }
        MeasuringUncertainty u = MeasuringUncertainty.of(clause, values, value, budget.get());
        GuardBand band = GuardBand.of(clause.decision(), u, clause.bound());
        if (clause.statistic().kind() == Statistic.Kind.FIRST_FAILURE) {
            return firstFailure(values, value);
        }
        ProofOfConformity proof = ProofOfConformity.of(
                value, band.width(), clause.bound().low(), clause.bound().high());
        Place place = switch (proof) {
            case CONFORMS -> Place.INSIDE;
            case DOES_NOT_CONFORM -> Place.OUTSIDE;
            case UNDECIDED -> Place.BETWEEN;
        };
        return new Assessed(place, band.shown(value), "");
    }

    /** The earliest and the latest cycle that could be the first, with the inner limits moved by the guard band of a shift. */
    private Assessed firstFailure(GroupValues values, double value) {
        if (!guarded() || !(clause.statistic().settings() instanceof Statistic.Settings.Broken broken)) {
            return new Assessed(clause.bound().holds(value) ? Place.INSIDE : Place.OUTSIDE, Assessment.NONE, "");
        }
        MeasuringUncertainty one = MeasuringUncertainty.ofOneShift(broken.limits(), budget.orElseThrow());
        double width = GuardBand.of(clause.decision(), one, broken.limits()).width();
        OverCycles cycles = OverCycles.of(clause, values);
        boolean early = clause.bound().holds(cycles.firstFailure(width).orElse(value));
        boolean late = clause.bound().holds(cycles.firstFailure(-width).orElse(value));
        Place place = early && late ? Place.INSIDE : early || late ? Place.BETWEEN : Place.OUTSIDE;
        return new Assessed(place, Assessment.NONE, "");
    }

    private Assessed ofProcess(GroupValues values) {
        LongRun longRun = new LongRun(clause, values, budget, worth);
        Decision decision = clause.decision();
        double confidence =
                decision.falseAccept().isPresent() ? 1 - decision.falseAccept().getAsDouble() : decision.confidence();
        LongRun.Limits limits = longRun.at(confidence);
        Bound bound = clause.bound();
        Assessment shown = longRun.shown(limits, bound);
        boolean inside = bound.low() <= limits.low() && limits.high() <= bound.high();
        boolean outside = limits.low() > bound.high() || limits.high() < bound.low();
        if (!inside && !outside && longRun.lacking().isPresent()) {
            return new Assessed(Place.OPEN, shown, longRun.lacking().get());
        }
        return new Assessed(inside ? Place.INSIDE : outside ? Place.OUTSIDE : Place.BETWEEN, shown, "");
    }
}
