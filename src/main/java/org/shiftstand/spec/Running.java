package org.shiftstand.spec;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Shift;

/** A statistic that follows a run shift by shift. */
interface Running {
    void add(Shift shift, double value);

    /** Of all values so far; empty where it does not exist yet. */
    OptionalDouble value();

    /**
     * Of a clause's statistic; empty for those that are not followed.
     *
     * <p>Of extremes a single shift decides, and a first failure is a cycle itself. A tolerance interval is wide and a
     * capability unsure while values are few: sound units would break such bounds early in a run. A drift and a step are of
     * the cycles that they span, and a bound on them is meant for the whole run.
     */
    static Optional<Running> of(Clause clause) {
        Statistic statistic = clause.statistic();
        return switch (statistic.kind()) {
            case MEAN -> Optional.of(new Moments(false));
            case STANDARD_DEVIATION -> Optional.of(new Moments(true));
            case POOLED_STANDARD_DEVIATION -> Optional.of(new Pooled());
            case RANGE -> Optional.of(new Sorted(-1));
            case MEDIAN -> Optional.of(new Sorted(0.5));
            case PERCENTILE -> Optional.of(new Sorted(statistic.fraction()));
            case COUNT -> Optional.of(new Hits(clause, false));
            case PROPORTION -> Optional.of(new Hits(clause, true));
            case REPEATABILITY -> Optional.of(new OfAxis(Positions::repeatability));
            case REVERSAL -> Optional.of(new OfAxis(Positions::reversal));
            // the last is about two runs, of which this is one
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    FIRST_FAILURE,
                    TOLERANCE_INTERVAL,
                    CAPABILITY,
                    DRIFT,
                    CHANGE_POINT,
                    EQUIVALENT_TO -> Optional.empty();
        };
    }

    /** Mean and standard deviation by B. P. Welford, Technometrics 4, 419–420, 1962. */
    final class Moments implements Running {
        private final boolean spread;
        private int n;
        private double mean;
        private double squares;

        Moments(boolean spread) {
            this.spread = spread;
        }

        @Override
        public void add(Shift shift, double value) {
            n++;
            double off = value - mean;
            mean += off / n;
            squares += off * (value - mean);
        }

        @Override
        public OptionalDouble value() {
            if (n < (spread ? 2 : 1)) {
                return OptionalDouble.empty();
            }
            return OptionalDouble.of(spread ? Math.sqrt(squares / (n - 1)) : mean);
        }
    }

    /** Within sprocket and direction. */
    final class Pooled implements Running {
        private record Natural(int to, Direction direction) {}

        private final Map<Natural, Moments> groups = new HashMap<>();

        @Override
        public void add(Shift shift, double value) {
            groups.computeIfAbsent(new Natural(shift.to(), shift.direction()), k -> new Moments(true))
                    .add(shift, value);
        }

        @Override
        public OptionalDouble value() {
            double squares = 0;
            long freedom = 0;
            for (Moments group : groups.values()) {
                squares += group.squares;
                freedom += group.n - 1;
            }
            return freedom == 0 ? OptionalDouble.empty() : OptionalDouble.of(Math.sqrt(squares / freedom));
        }
    }

    /** Of landings as positions of an axis, from all values so far. */
    final class OfAxis implements Running {
        private final Function<List<GroupValues.Natural>, OptionalDouble> statistic;
        private final GroupValues values = GroupValues.none();

        OfAxis(Function<List<GroupValues.Natural>, OptionalDouble> statistic) {
            this.statistic = statistic;
        }

        @Override
        public void add(Shift shift, double value) {
            values.add(shift, value);
        }

        @Override
        public OptionalDouble value() {
            return statistic.apply(values.natural());
        }
    }

    /** Percentile or range of values kept in order. */
    final class Sorted implements Running {
        private final double fraction;
        private double[] sorted = new double[16];
        private int n;

        /** @param fraction 0…1; below 0 for the range */
        Sorted(double fraction) {
            this.fraction = fraction;
        }

        @Override
        public void add(Shift shift, double value) {
            if (n == sorted.length) {
                sorted = Arrays.copyOf(sorted, 2 * n);
            }
            int found = Arrays.binarySearch(sorted, 0, n, value);
            int place = found < 0 ? -found - 1 : found;
            System.arraycopy(sorted, place, sorted, place + 1, n - place);
            sorted[place] = value;
            n++;
        }

        @Override
        public OptionalDouble value() {
            if (n < (fraction < 0 ? 2 : 1)) {
                return OptionalDouble.empty();
            }
            if (fraction < 0) {
                return OptionalDouble.of(sorted[n - 1] - sorted[0]);
            }
            double place = (n - 1) * fraction;
            int below = (int) place;
            int above = Math.min(below + 1, n - 1);
            return OptionalDouble.of(sorted[below] + (place - below) * (sorted[above] - sorted[below]));
        }
    }

    /** On outcomes the shifts that count, else those that have a value; as a number or a share. */
    final class Hits implements Running {
        private final boolean ofOutcome;
        private final boolean share;
        private int n;
        private int hits;

        Hits(Clause clause, boolean share) {
            this.ofOutcome = clause.outcome().isPresent();
            this.share = share;
        }

        @Override
        public void add(Shift shift, double value) {
            n++;
            hits += !ofOutcome || value == 1 ? 1 : 0;
        }

        @Override
        public OptionalDouble value() {
            return n == 0 ? OptionalDouble.empty() : OptionalDouble.of(share ? (double) hits / n : hits);
        }
    }

    /**
     * The first cycle after which a clause's value breaks its bound; empty where it never does.
     *
     * @param shifts of one group, in time order
     * @param values one for each
     * @param needs shifts that an estimator needs
     */
    static OptionalInt firstFailed(Clause clause, List<Shift> shifts, double[] values, int needs) {
        return switch (clause.statistic().kind()) {
            case EVERY, MINIMUM, MAXIMUM -> TrendStatistics.firstFailure(shifts, values, clause.bound());
            case MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    PERCENTILE,
                    COUNT,
                    PROPORTION,
                    TOLERANCE_INTERVAL,
                    REPEATABILITY,
                    REVERSAL,
                    CAPABILITY,
                    DRIFT,
                    CHANGE_POINT,
                    FIRST_FAILURE,
                    EQUIVALENT_TO -> {
                Optional<Running> running = of(clause);
                yield running.isEmpty() ? OptionalInt.empty() : follow(running.get(), clause, shifts, values, needs);
            }
        };
    }

    private static OptionalInt follow(Running running, Clause clause, List<Shift> shifts, double[] values, int needs) {
        // a count grows only: too few of something can be said at the end of a run alone
        boolean count = clause.statistic().kind() == Statistic.Kind.COUNT;
        double low = count ? Double.NEGATIVE_INFINITY : clause.bound().atLeast().orElse(Double.NEGATIVE_INFINITY);
        double high = clause.bound().atMost().orElse(Double.POSITIVE_INFINITY);
        for (int i = 0; i < values.length; i++) {
            running.add(shifts.get(i), values[i]);
            boolean cycleEnds = i + 1 == values.length
                    || shifts.get(i + 1).cycle() != shifts.get(i).cycle();
            if (cycleEnds && i + 1 >= needs) {
                OptionalDouble value = running.value();
                if (value.isPresent() && !(low <= value.getAsDouble() && value.getAsDouble() <= high)) {
                    return OptionalInt.of(shifts.get(i).cycle());
                }
            }
        }
        return OptionalInt.empty();
    }
}
