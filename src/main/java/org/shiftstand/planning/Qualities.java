package org.shiftstand.planning;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoublePredicate;
import org.shiftstand.spec.Verdict;

/**
 * Finds what a clause guards against, and the qualities worth looking at.
 *
 * <p>A clause guards against the first thing that turns its verdict on a unit without chance: a bias where that does, a wider
 * spread where the statistic is about that, else whichever of a wider spread, a reversal, a drift and a step does so with
 * the least departure of the values. Nothing here knows a statistic by name: each shows by its verdicts what it is about.
 */
final class Qualities {
    /** A bad unit's values stand so many standard deviations beyond the place where an ideal unit would turn. */
    static final double BAD_BEYOND = 1;
    /** A bad unit scatters so many times wider than where an evenly scattering one would turn. */
    static final double BAD_WIDER = 1.5;
    /** At least so many shifts of a bad unit go wrong. */
    static final double BAD_SHARE = 0.05;

    private static final double LEAST = 1.0 / 16;
    private static final double LEAST_SHARE = 1.0 / 4096;
    private static final double MOST = 1 << 20;
    private static final int HALVINGS = 20;
    private static final int SCOUTS = 16;
    private static final int SCOUT_HALVINGS = 5;
    /** Departures that differ by less are alike: a drift as wide as a spread is told by a plain standard deviation as that. */
    private static final double ALIKE = 0.8;

    private final ClauseTrials trials;
    private final long seed;

    Qualities(ClauseTrials trials, long seed) {
        this.trials = trials;
        this.seed = seed;
    }

    /**
     * A fault that turns the verdict.
     *
     * @param turn the least that does, without chance
     * @param bad size of a stated bad unit's
     */
    record Guarded(Fault turn, double bad) {}

    /** Empty where a sound unit does not pass, or nothing makes it fail. */
    Optional<Guarded> guarded() {
        if (trials.none().worsening() == Worsening.SHARE) {
            return turn(Worsening.SHARE)
                    .map(f -> new Guarded(f, Math.min(1, Math.max(BAD_SHARE, BAD_WIDER * f.size()))));
        }
        Optional<Fault> bias = turn(Worsening.BIAS);
        Optional<Fault> wider = bias.isEmpty() && trials.aboutSpread() ? turn(Worsening.SPREAD) : Optional.empty();
        Optional<Fault> found = bias.or(() -> wider).or(this::leastOfTheOthers);
        return found.map(f -> new Guarded(
                f, f.worsening() == Worsening.SPREAD ? BAD_WIDER * (1 + f.size()) - 1 : f.size() + BAD_BEYOND));
    }

    private Optional<Fault> leastOfTheOthers() {
        Optional<Fault> least = Optional.empty();
        for (Worsening worsening : List.of(Worsening.SPREAD, Worsening.REVERSAL, Worsening.DRIFT, Worsening.STEP)) {
            Optional<Fault> turn = turn(worsening);
            if (turn.isPresent() && (least.isEmpty() || departure(turn.get()) < ALIKE * departure(least.get()))) {
                least = turn;
            }
        }
        return least;
    }

    private static double departure(Fault fault) {
        return Fault.departure(fault.worsening(), fault.size());
    }

    /** The least fault of a sort that turns the verdict without chance, whichever way it goes. */
    private Optional<Fault> turn(Worsening worsening) {
        Optional<Fault> up = turn(worsening, 1);
        boolean oneWay = worsening == Worsening.SPREAD || worsening == Worsening.SHARE;
        Optional<Fault> down = oneWay ? Optional.empty() : turn(worsening, -1);
        if (up.isEmpty() || down.isEmpty()) {
            return up.or(() -> down);
        }
        return down.get().size() < up.get().size() * (1 - 1e-9) ? down : up;
    }

    private Optional<Fault> turn(Worsening worsening, int sign) {
        Fault none = trials.none();
        Fault fault = new Fault(worsening, sign, 0, none.place(), none.cycles());
        // a spread is nothing without scatter; a statistic that needs scatter is nothing without it either
        Scores scores = worsening == Worsening.SPREAD || !passes(none, Scores.STILL) ? Scores.EVEN : Scores.STILL;
        if (!passes(none, scores)) {
            return Optional.empty();
        }
        double most = worsening == Worsening.SHARE ? 1 : MOST;
        double fails = worsening == Worsening.SHARE ? LEAST_SHARE : LEAST;
        while (passes(fault.sized(fails), scores)) {
            if (fails >= most) {
                return Optional.empty();
            }
            fails = Math.min(most, 2 * fails);
        }
        return Optional.of(fault.sized(halved(0, fails, size -> passes(fault.sized(size), scores), HALVINGS)
                .high()));
    }

    private boolean passes(Fault fault, Scores scores) {
        return trials.verdict(fault, scores) == Verdict.PASS;
    }

    /** Sizes at which the curve is worth knowing: 0, then from where some fail to where none passes. */
    List<Double> sizes(Guarded guarded, int steps) {
        Fault fault = guarded.turn();
        double most = fault.worsening() == Worsening.SHARE ? 1 : MOST;
        double none = Math.max(fault.size(), LEAST_SHARE);
        while (none < most && passing(fault.sized(none)) > 0) {
            none = Math.min(most, 2 * none);
        }
        double all = passing(fault.sized(0)) < SCOUTS
                ? 0
                : halved(0, none, size -> passing(fault.sized(size)) == SCOUTS, SCOUT_HALVINGS)
                        .low();
        double end = halved(all, none, size -> passing(fault.sized(size)) > 0, SCOUT_HALVINGS)
                .high();
        // scouts are few: half as much more on either side
        double from = Math.max(0, all - (end - all) / 2);
        double to = Math.min(most, end + (end - all) / 2);
        List<Double> sizes = new ArrayList<>();
        sizes.add(0.0);
        for (int i = from == 0 ? 1 : 0; i <= steps; i++) {
            sizes.add(from + (to - from) * i / steps);
        }
        return sizes;
    }

    private int passing(Fault fault) {
        return trials.tally(fault, seed, SCOUTS).pass();
    }

    /** Sizes beside each other: at the lower something holds, at the upper not. */
    private record Edge(double low, double high) {}

    private static Edge halved(double holds, double not, DoublePredicate still, int times) {
        double low = holds;
        double high = not;
        for (int i = 0; i < times; i++) {
            double middle = (low + high) / 2;
            if (still.test(middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return new Edge(low, high);
    }
}
