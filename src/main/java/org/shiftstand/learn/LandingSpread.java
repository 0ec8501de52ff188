package org.shiftstand.learn;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.apache.commons.math3.distribution.FDistribution;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/**
 * Bounds of the spread of landings on a sprocket from one side: what the standard deviation of so many further shifts stays
 * below with the stated chance, s·√F, F of m − 1 and ν degrees of freedom.
 *
 * <p>Rows that overtravel in some shifts only land in two places; jumps may come in another way than the step between
 * neighbours. Such sprockets have no bound.
 */
final class LandingSpread {
    /** More shifts would make the bound tighter, but it could then not be judged by a short run; own choice. */
    private static final int MOST_NEEDED = 8;

    private LandingSpread() {}

    static void of(
            Learned learned, List<Remeasured> sources, Consumer<DraftClause> clauses, Consumer<String> comments) {
        Variation variation = learned.variation(Measure.LANDING)
                .orElseGet(() -> RowValues.of(sources, Measure.LANDING_ERROR, s -> true, true)
                        .pooled(Measure.LANDING, learned.units().size()));
        if (variation.withinFreedom() < Tolerance.LEAST_FREEDOM) {
            comments.accept("no bound for the spread of landings: too few shifts of one row to tell it");
            return;
        }
        for (Direction direction : Direction.values()) {
            List<LearnedStep> bounded = learned.steps().stream()
                    .filter(step -> step.direction() == direction && alike(learned, step))
                    .toList();
            if (!bounded.isEmpty()) {
                clauses.accept(clause(learned, variation, direction, bounded));
            }
            learned.steps().stream()
                    .filter(step ->
                            step.direction() == direction && RowKind.of(step) != RowKind.GAP && !alike(learned, step))
                    .forEach(step -> comments.accept("no bound for the spread of landings on sprocket " + step.to()
                            + " " + direction.word() + ": reached in more than one way"));
        }
    }

    private static boolean alike(Learned learned, LearnedStep step) {
        RowKind kind = RowKind.of(step);
        return (kind == RowKind.RETURNING || kind == RowKind.DIRECT)
                && learned.jumps().stream()
                        .filter(jump -> jump.to() == step.to() && jump.direction() == step.direction())
                        .allMatch(jump -> RowKind.of(jump) == kind);
    }

    private static DraftClause clause(
            Learned learned, Variation variation, Direction direction, List<LearnedStep> steps) {
        int fewest = steps.stream().mapToInt(LearnedStep::heldBack).min().orElse(2);
        int needs = Math.max(2, Math.min(MOST_NEEDED, fewest));
        double f = new FDistribution(null, needs - 1.0, variation.withinFreedom())
                .inverseCumulativeProbability(learned.options().coverage());
        double margin = learned.options().margins().getOrDefault(Measure.LANDING, 0.0);
        double high = variation.withinSd() * Math.sqrt(f) + margin;
        return new DraftClause(
                "landing-spread-" + direction.word(),
                Measure.LANDING.key(),
                Optional.of("direction: " + direction.word() + ", to: " + RowKind.sprockets(steps)),
                "standard-deviation",
                Optional.of("[sprocket, direction]"),
                DraftBound.atMost(high, 0, Unit.DEG).line(),
                Optional.of(needs + " shifts"),
                "sd " + Figure.fine(variation.withinSd(), Unit.DEG) + " within a unit ("
                        + Figure.fixed(variation.withinFreedom(), 1) + " degrees of freedom); that of " + needs
                        + " further shifts stays below this in "
                        + Figure.percent(learned.options().coverage())
                        + " of cases" + (margin > 0 ? ", margin " + Figure.deg(margin) : "")
                        + (learned.units().size() == 1 ? "; one unit: says nothing of others" : ""));
    }
}
