package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.shift.Shift;
import org.shiftstand.stats.Sample;

/**
 * Judges one group of a clause.
 *
 * <p>A group fails if its value breaks the bound, also beside unmeasured shifts; else it has no verdict if it has fewer
 * values than it needs, or if what is missing could turn the result; else it passes. A count or proportion fails only
 * where it would whatever the missing ones are: an unknown outcome is neither a failure nor landed.
 */
final class GroupJudge {
    private final Clause clause;
    private final Figures figures;
    private final Wording wording;
    private final Optional<String> unmeasurable;

    /** @param unmeasurable why no group of this clause can have a value, where that is so */
    GroupJudge(Clause clause, Optional<String> unmeasurable) {
        this.clause = clause;
        this.figures = new Figures(Figures.shown(clause));
        this.wording = new Wording(clause, Figures.shown(clause));
        this.unmeasurable = unmeasurable;
    }

    GroupResult judge(GroupKey key, GroupValues values) {
        if (!values.selected()) {
            return values.notApplicable() > 0
                    ? without(key, values, Verdict.PASS, wording.notApplicable(key, values))
                    : without(key, values, Verdict.NO_VERDICT, wording.noShift(key));
        }
        if (unmeasurable.isPresent()) {
            return without(key, values, Verdict.NO_VERDICT, wording.noValue(key, unmeasurable.get()));
        }
        if (values.n() == 0 && values.missing() == 0) {
            return without(key, values, Verdict.NO_VERDICT, wording.allDisplaced(key, values));
        }
        if (values.n() + values.notMeasured() + values.displaced() + values.notApplicable() == 0) {
            return without(key, values, Verdict.NO_VERDICT, wording.noShift(key));
        }
        int needs = clause.needs().orElse(clause.statistic().kind().defaultNeeds());
        OptionalDouble value = value(values);
        if (value.isEmpty()) {
            return without(key, values, Verdict.NO_VERDICT, wording.notEnough(key, values, Math.max(needs, least())));
        }
        return judge(key, values, value.getAsDouble(), needs);
    }

    private GroupResult judge(GroupKey key, GroupValues values, double value, int needs) {
        List<Integer> broke = broke(values, value);
        if (fails(values, value)) {
            return with(key, values, value, Verdict.FAIL, wording.valued(key, values, value, broke), broke);
        }
        if (values.n() < needs) {
            return with(key, values, value, Verdict.NO_VERDICT, wording.notEnough(key, values, needs), List.of());
        }
        if (couldTurn(values)) {
            return with(key, values, value, Verdict.NO_VERDICT, wording.couldTurn(key, values, value), List.of());
        }
        if (estimator() && tooManyMiss(values)) {
            return with(key, values, value, Verdict.NO_VERDICT, wording.tooManyMiss(key, values), List.of());
        }
        return with(key, values, value, Verdict.PASS, wording.valued(key, values, value, List.of()), List.of());
    }

    /** Values that the statistic needs to exist at all. */
    private int least() {
        return switch (clause.statistic().kind()) {
            case STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE -> 2;
            case EVERY, MINIMUM, MAXIMUM, MEAN, MEDIAN, PERCENTILE, COUNT, PROPORTION -> 1;
        };
    }

    private OptionalDouble value(GroupValues values) {
        Sample sample = values.sample();
        return switch (clause.statistic().kind()) {
            case EVERY -> worst(values);
            case MINIMUM -> sample.minimum();
            case MAXIMUM -> sample.maximum();
            case MEAN -> sample.mean();
            case MEDIAN -> sample.median();
            case STANDARD_DEVIATION -> sample.standardDeviation();
            case POOLED_STANDARD_DEVIATION -> Sample.pooledStandardDeviation(values.natural());
            case RANGE -> sample.range();
            case PERCENTILE -> sample.percentile(clause.statistic().fraction());
            case COUNT -> values.n() == 0 ? OptionalDouble.empty() : OptionalDouble.of(counted(values));
            case PROPORTION -> Sample.proportion(counted(values), values.n());
        };
    }

    /** On outcomes the shifts that count, else those that have a value. */
    private int counted(GroupValues values) {
        return clause.outcome().isPresent() ? values.hits() : values.n();
    }

    private OptionalDouble worst(GroupValues values) {
        OptionalDouble worst = OptionalDouble.empty();
        for (int i = 0; i < values.n(); i++) {
            if (worst.isEmpty() || margin(values.value(i)) < margin(worst.getAsDouble())) {
                worst = OptionalDouble.of(values.value(i));
            }
        }
        return worst;
    }

    private boolean fails(GroupValues values, double value) {
        return switch (clause.statistic().kind()) {
            case COUNT, PROPORTION -> {
                Span span = span(values);
                yield span.low > high() || span.high < low(); // whatever the unknown ones are
            }
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    PERCENTILE -> !inside(value);
        };
    }

    private boolean couldTurn(GroupValues values) {
        return switch (clause.statistic().kind()) {
            case PROPORTION -> !inside(span(values).low) || !inside(span(values).high);
            case EVERY, MINIMUM, MAXIMUM, COUNT -> values.missing() > 0; // one is enough
            case MEAN, MEDIAN, STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE, PERCENTILE -> false;
        };
    }

    private boolean estimator() {
        return switch (clause.statistic().kind()) {
            case EVERY, MINIMUM, MAXIMUM, COUNT -> false;
            case MEAN, MEDIAN, STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE, PERCENTILE, PROPORTION -> true;
        };
    }

    private boolean tooManyMiss(GroupValues values) {
        return values.missing() > clause.mayMiss() * (values.n() + values.missing());
    }

    /** What a count or proportion can be once every missing shift is known. */
    private Span span(GroupValues values) {
        int counted = counted(values);
        int most = counted + values.missing();
        double total = clause.statistic().kind() == Statistic.Kind.PROPORTION ? values.n() + values.missing() : 1;
        return new Span(counted / total, most / total);
    }

    private record Span(double low, double high) {}

    private List<Integer> broke(GroupValues values, double value) {
        List<Integer> numbers = new ArrayList<>();
        for (int i = 0; i < values.n(); i++) {
            Shift shift = values.shifts().get(i);
            boolean broke = switch (clause.statistic().kind()) {
                case EVERY, MINIMUM, MAXIMUM -> !inside(values.value(i));
                // too many: those that count; too few: those that should and do not
                case COUNT, PROPORTION -> clause.outcome().isPresent() && (values.value(i) == 1) == (value > high());
                case MEAN, MEDIAN, STANDARD_DEVIATION, POOLED_STANDARD_DEVIATION, RANGE, PERCENTILE -> true;
            };
            if (broke) {
                numbers.add(shift.number());
            }
        }
        return numbers;
    }

    private double low() {
        return clause.bound().atLeast().orElse(Double.NEGATIVE_INFINITY);
    }

    private double high() {
        return clause.bound().atMost().orElse(Double.POSITIVE_INFINITY);
    }

    private boolean inside(double value) {
        return low() <= value && value <= high();
    }

    private double margin(double value) {
        return Math.min(value - low(), high() - value);
    }

    private GroupResult without(GroupKey key, GroupValues values, Verdict verdict, String reason) {
        return result(key, values, OptionalDouble.empty(), OptionalDouble.empty(), verdict, reason, List.of());
    }

    private GroupResult with(
            GroupKey key, GroupValues values, double value, Verdict verdict, String reason, List<Integer> shifts) {
        return result(
                key,
                values,
                OptionalDouble.of(figures.in(value)),
                OptionalDouble.of(figures.margin(value, clause.bound())),
                verdict,
                reason,
                shifts);
    }

    private static GroupResult result(
            GroupKey key,
            GroupValues values,
            OptionalDouble value,
            OptionalDouble margin,
            Verdict verdict,
            String reason,
            List<Integer> shifts) {
        return new GroupResult(
                key.names(),
                values.n(),
                values.notMeasured(),
                values.notApplicable(),
                values.displaced(),
                values.notMade(),
                value,
                margin,
                verdict,
                reason,
                shifts);
    }
}
