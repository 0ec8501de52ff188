package org.shiftstand.spec;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.stats.Sample;

/** The statistic of one group, in base units: of the measure, or of a count or ratio. */
final class GroupStatistic {
    private final Clause clause;

    GroupStatistic(Clause clause) {
        this.clause = clause;
    }

    /** Empty where the values do not suffice for the statistic to exist. */
    OptionalDouble of(GroupValues values) {
        Sample sample = values.sample();
        return switch (clause.statistic().kind()) {
            case EVERY -> worst(values);
            case MINIMUM -> sample.minimum();
            case MAXIMUM -> sample.maximum();
            case MEAN -> sample.mean();
            case MEDIAN -> sample.median();
            case STANDARD_DEVIATION -> sample.standardDeviation();
            case POOLED_STANDARD_DEVIATION -> Sample.pooledStandardDeviation(samples(values));
            case RANGE -> sample.range();
            case PERCENTILE -> sample.percentile(clause.statistic().fraction());
            case COUNT -> values.n() == 0 ? OptionalDouble.empty() : OptionalDouble.of(counted(values));
            case PROPORTION -> Sample.proportion(counted(values), values.n());
            case TOLERANCE_INTERVAL -> new NormalTheory(clause).toleranceEnd(sample);
            case CAPABILITY -> new NormalTheory(clause).capability(values);
            case REPEATABILITY -> Positions.repeatability(values.natural());
            case REVERSAL -> Positions.reversal(values.natural());
            case DRIFT -> OverCycles.of(clause, values).drift();
            case CHANGE_POINT -> OverCycles.of(clause, values).changePoint();
            case EQUIVALENT_TO -> OptionalDouble.empty(); // of one run there is no difference
            case FIRST_FAILURE -> OverCycles.of(clause, values).firstFailure(0);
        };
    }

    /** On outcomes the shifts that count, else those that have a value. */
    int counted(GroupValues values) {
        return clause.outcome().isPresent() ? values.hits() : values.n();
    }

    static List<Sample> samples(GroupValues values) {
        return values.natural().stream().map(GroupValues.Natural::sample).toList();
    }

    private OptionalDouble worst(GroupValues values) {
        OptionalDouble worst = OptionalDouble.empty();
        for (int i = 0; i < values.n(); i++) {
            if (worst.isEmpty()
                    || clause.bound().margin(values.value(i)) < clause.bound().margin(worst.getAsDouble())) {
                worst = OptionalDouble.of(values.value(i));
            }
        }
        return worst;
    }
}
