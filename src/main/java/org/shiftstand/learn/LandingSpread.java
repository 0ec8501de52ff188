package org.shiftstand.learn;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.apache.commons.math3.distribution.FDistribution;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;

/**
 * Bounds of the spread of landings: what the standard deviation of further shifts stays below with the stated chance, s·√F, F
 * of their and the learned degrees of freedom.
 *
 * <p>Two clauses for each direction. Of a sprocket by itself two shifts must do, since a group fails by however few there are;
 * the chance is that of all sprockets together (Bonferroni). Pooled over sprockets the bound is tighter, and finds a unit that
 * scatters everywhere. Rows that overtravel in some shifts only land in two places; jumps may come in another way than the
 * step between neighbours. Such sprockets have no bound.
 */
final class LandingSpread {
    /** So few shifts of a sprocket show a spread. */
    private static final int SHIFTS = 2;
    /** On so many sprockets the pooled bound rests, so that a run over a part of the cassette can be judged; own choice. */
    private static final int POOLED_SPROCKETS = 3;

    private final Learned learned;
    private final Variation variation;
    private final Direction direction;
    private final List<LearnedStep> steps;

    private LandingSpread(Learned learned, Variation variation, Direction direction, List<LearnedStep> steps) {
        this.learned = learned;
        this.variation = variation;
        this.direction = direction;
        this.steps = steps;
    }

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
                LandingSpread spread = new LandingSpread(learned, variation, direction, bounded);
                clauses.accept(spread.ofEach());
                clauses.accept(spread.pooled());
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

    private DraftClause ofEach() {
        double outside = (1 - learned.options().coverage()) / steps.size();
        return clause(
                "landing-spread-",
                "standard-deviation",
                "[sprocket, direction]",
                high(SHIFTS - 1, 1 - outside),
                SHIFTS,
                "that of " + SHIFTS + " further shifts on each sprocket");
    }

    private DraftClause pooled() {
        int sprockets = Math.min(POOLED_SPROCKETS, steps.size());
        return clause(
                "landing-spread-pooled-",
                "pooled-standard-deviation",
                "direction",
                high(sprockets * (SHIFTS - 1), learned.options().coverage()),
                sprockets * SHIFTS,
                "that of " + SHIFTS + " further shifts on each of " + sprockets + " sprockets, pooled,");
    }

    private double high(int freedom, double coverage) {
        double f = new FDistribution(null, freedom, variation.withinFreedom()).inverseCumulativeProbability(coverage);
        return variation.withinSd() * Math.sqrt(f) + margin();
    }

    private double margin() {
        return learned.options().margins().getOrDefault(Measure.LANDING, 0.0);
    }

    private DraftClause clause(String id, String statistic, String per, double high, int needs, String further) {
        return new DraftClause(
                id + direction.word(),
                Measure.LANDING.key(),
                Optional.of("direction: " + direction.word() + ", to: " + RowKind.sprockets(steps)),
                statistic,
                Optional.of(per),
                DraftBound.atMost(high, 0, Unit.DEG).line(),
                Optional.of(needs + " shifts"),
                "sd " + Figure.fine(variation.withinSd(), Unit.DEG) + " within a unit ("
                        + Figure.fixed(variation.withinFreedom(), 1) + " degrees of freedom); " + further
                        + " stays below this in "
                        + Figure.percent(learned.options().coverage()) + " of cases"
                        + (margin() > 0 ? ", margin " + Figure.deg(margin()) : "")
                        + (learned.units().size() == 1 ? "; one unit: says nothing of others" : ""));
    }
}
