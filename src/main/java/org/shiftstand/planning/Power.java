package org.shiftstand.planning;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.IntPredicate;
import org.shiftstand.profile.Profile;
import org.shiftstand.spec.Clause;
import org.shiftstand.spec.Spec;

/**
 * How many cycles a clause needs so that both a sound and a stated bad unit get the right verdict with a wanted chance.
 *
 * @param wanted the chance, in 0…1
 * @param cycles fewest found; empty where no number does
 * @param seconds that so many cycles take; likewise
 * @param why no number does; empty where one does
 */
public record Power(double wanted, OptionalInt cycles, OptionalDouble seconds, Optional<String> why) {
    /** Cycles beyond this are not tried; at a minute a cycle it is more than a night. */
    static final int MOST_CYCLES = 512;

    /**
     * Fewest cycles by bisection, for a fault of fixed size.
     *
     * <p>More cycles never make a bad unit's pass likelier; whether they help a sound unit depends on the statistic: an
     * estimator gets surer, but an extreme meets its bound sooner or later.
     *
     * @param fault of the stated bad unit
     */
    static Power of(
            Spec spec,
            Clause clause,
            Profile profile,
            Schedule schedule,
            Assumptions given,
            ClauseNeeds needs,
            Fault fault) {
        double wanted = given.power().orElseThrow();
        IntPredicate bad = cycles -> {
            Tally tally = trials(spec, clause, profile, schedule, given, cycles)
                    .tally(lasting(fault, cycles), given.seed(), given.repetitions());
            return tally.pass() <= (1 - wanted) * tally.repetitions() + 1e-9;
        };
        IntPredicate good = cycles -> {
            ClauseTrials trials = trials(spec, clause, profile, schedule, given, cycles);
            Tally tally = trials.tally(trials.none(), given.seed(), given.repetitions());
            return tally.pass() >= wanted * tally.repetitions() - 1e-9;
        };
        OptionalInt telling = fewestFrom(needs.cycles().orElseThrow(), bad);
        if (telling.isEmpty()) {
            return none(wanted, "not even " + MOST_CYCLES + " cycles tell the bad unit so surely");
        }
        int tells = telling.getAsInt();
        OptionalInt both = fewestFrom(tells, good);
        return both.isPresent()
                ? new Power(wanted, both, OptionalDouble.of(schedule.seconds(both.getAsInt())), Optional.empty())
                : none(wanted, "where cycles are enough to tell the bad unit, a sound one does not pass so surely");
    }

    private static Power none(double wanted, String why) {
        return new Power(wanted, OptionalInt.empty(), OptionalDouble.empty(), Optional.of(why));
    }

    private static ClauseTrials trials(
            Spec spec, Clause clause, Profile profile, Schedule schedule, Assumptions given, int cycles) {
        return new ClauseTrials(spec, clause, profile, given.unit(), schedule.plan(cycles), given.everywhere());
    }

    private static Fault lasting(Fault fault, int cycles) {
        return new Fault(fault.worsening(), fault.sign(), fault.size(), fault.place(), cycles);
    }

    /** The fewest cycles from a number on, by doubling and then bisection; empty where none is found. */
    private static OptionalInt fewestFrom(int least, IntPredicate holds) {
        int below = least;
        for (int cycles = least; cycles <= MOST_CYCLES; cycles *= 2) {
            if (holds.test(cycles)) {
                return OptionalInt.of(fewest(below, cycles, holds));
            }
            below = cycles + 1;
        }
        return OptionalInt.empty();
    }

    /** The fewest cycles, between two numbers, of which the upper holds. */
    private static int fewest(int low, int high, IntPredicate holds) {
        int from = low;
        int to = high;
        while (from < to) {
            int middle = (from + to) / 2;
            if (holds.test(middle)) {
                to = middle;
            } else {
                from = middle + 1;
            }
        }
        return to;
    }
}
