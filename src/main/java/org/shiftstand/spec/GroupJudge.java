package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.bench.Budgets;
import org.shiftstand.shift.Shift;

/**
 * Judges one group of a clause.
 *
 * <p>A group fails if its value breaks the bound, also beside unmeasured shifts; else it has no verdict if it has fewer
 * values than it needs, or if what is missing could turn the result; else, under the rule and claim of the clause, it passes
 * or the evidence does not decide. A count or proportion fails only where it would whatever the missing ones are: an
 * unknown outcome is neither a failure nor landed.
 */
final class GroupJudge {
    private final Clause clause;
    private final Statistic.Kind kind;
    private final GroupStatistic statistic;
    private final Assessor assessor;
    private final Figures figures;
    private final Wording wording;
    private final Optional<String> unmeasurable;

    /**
     * @param unmeasurable why no group of this clause can have a value, where that is so
     * @param budgets uncertainty of measurement, where it is known
     * @param worth effective over actual number of shifts, above 0 to 1
     */
    GroupJudge(Clause clause, Optional<String> unmeasurable, Optional<Budgets> budgets, double worth) {
        this.clause = clause;
        this.kind = clause.statistic().kind();
        this.statistic = new GroupStatistic(clause);
        this.assessor = new Assessor(clause, budgets, worth);
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
        OptionalDouble value = statistic.of(values);
        if (value.isEmpty()) {
            int needs = Math.max(clause.needed(), kind.least());
            return without(
                    key,
                    values,
                    Verdict.NO_VERDICT,
                    values.n() < needs ? wording.notEnough(key, values, needs) : wording.noValue(key, undefined()));
        }
        return judge(key, values, value.getAsDouble());
    }

    /** Why there is no value though there are shifts enough. */
    private String undefined() {
        return switch (kind) {
            case CAPABILITY -> "all values are the same: a capability of no spread at all is not defined";
            case REVERSAL -> "no sprocket has landings from both directions";
            case DRIFT, CHANGE_POINT -> "its shifts lie in too few cycles to tell a change over them";
            case EVERY,
                    MINIMUM,
                    MAXIMUM,
                    MEAN,
                    MEDIAN,
                    STANDARD_DEVIATION,
                    POOLED_STANDARD_DEVIATION,
                    RANGE,
                    PERCENTILE,
                    COUNT,
                    PROPORTION,
                    TOLERANCE_INTERVAL,
                    REPEATABILITY,
                    FIRST_FAILURE,
                    EQUIVALENT_TO -> "no sprocket and direction has two landings";
        };
    }

    private GroupResult judge(GroupKey key, GroupValues values, double value) {
        Assessor.Assessed assessed = assessor.assess(values, value);
        Assessor.Place place = turned(values, assessed.place());
        Assessment shown = assessed.shown();
        if (place == Assessor.Place.OUTSIDE) {
            List<Integer> broke = broke(values, value);
            String reason = wording.failing(key, values, value, broke, shown);
            return with(key, values, value, Verdict.FAIL, reason, broke, rejecting(shown));
        }
        Optional<String> undecided = undecided(key, values, value, place, assessed);
        return undecided.isPresent()
                ? with(key, values, value, Verdict.NO_VERDICT, undecided.get(), List.of(), shown)
                : with(
                        key,
                        values,
                        value,
                        Verdict.PASS,
                        wording.passing(key, values, value, shown),
                        List.of(),
                        accepting(shown));
    }

    /** Why the evidence does not decide, first reason first; empty where it does. */
    private Optional<String> undecided(
            GroupKey key, GroupValues values, double value, Assessor.Place place, Assessor.Assessed assessed) {
        if (values.n() < clause.needed()) {
            return Optional.of(wording.notEnough(key, values, clause.needed()));
        }
        if (couldTurn(values)) {
            return Optional.of(wording.couldTurn(key, values, value));
        }
        if (kind.nature() != Statistic.Nature.EXTREME && kind != Statistic.Kind.COUNT && tooManyMiss(values)) {
            return Optional.of(wording.tooManyMiss(key, values));
        }
        if (place == Assessor.Place.OPEN) {
            return Optional.of(wording.noValue(key, assessed.open()));
        }
        return place == Assessor.Place.BETWEEN
                ? Optional.of(wording.between(key, values, value, assessed.shown()))
                : Optional.empty();
    }

    /** A count or proportion breaks its bound only where it does whatever the unknown ones are. */
    private Assessor.Place turned(GroupValues values, Assessor.Place place) {
        if (kind.nature() != Statistic.Nature.COUNTED || place != Assessor.Place.OUTSIDE) {
            return place;
        }
        Span span = span(values);
        boolean surely =
                span.low > clause.bound().high() || span.high < clause.bound().low();
        return surely ? place : Assessor.Place.INSIDE; // what could turn it is told next
    }

    private boolean couldTurn(GroupValues values) {
        return switch (kind.nature()) {
            case EXTREME -> values.missing() > 0; // one is enough
            case COUNTED ->
                kind == Statistic.Kind.COUNT
                        ? values.missing() > 0
                        : !clause.bound().holds(span(values).low)
                                || !clause.bound().holds(span(values).high);
            case ESTIMATOR -> false;
        };
    }

    private boolean tooManyMiss(GroupValues values) {
        return values.missing() > clause.mayMiss() * (values.n() + values.missing());
    }

    /** What a count or proportion can be once every missing shift is known. */
    private Span span(GroupValues values) {
        int counted = statistic.counted(values);
        int most = counted + values.missing();
        double total = kind == Statistic.Kind.PROPORTION ? values.n() + values.missing() : 1;
        return new Span(counted / total, most / total);
    }

    private record Span(double low, double high) {}

    private List<Integer> broke(GroupValues values, double value) {
        List<Integer> numbers = new ArrayList<>();
        for (int i = 0; i < values.n(); i++) {
            Shift shift = values.shifts().get(i);
            boolean broke = switch (kind.nature()) {
                case EXTREME -> !singleBound().holds(values.value(i));
                // too many: those that count; too few: those that should and do not
                case COUNTED ->
                    clause.outcome().isPresent()
                            && (values.value(i) == 1) == (value > clause.bound().high());
                case ESTIMATOR -> true;
            };
            if (broke) {
                numbers.add(shift.number());
            }
        }
        return numbers;
    }

    /** What a single shift must not break. */
    private Bound singleBound() {
        return clause.statistic().settings() instanceof Statistic.Settings.Broken broken
                ? broken.limits()
                : clause.bound();
    }

    private static Assessment accepting(Assessment shown) {
        return shown.withRisks(complement(shown.conformanceProbability()), OptionalDouble.empty());
    }

    private static Assessment rejecting(Assessment shown) {
        return shown.withRisks(OptionalDouble.empty(), shown.conformanceProbability());
    }

    private static OptionalDouble complement(OptionalDouble probability) {
        return probability.isPresent() ? OptionalDouble.of(1 - probability.getAsDouble()) : probability;
    }

    private GroupResult without(GroupKey key, GroupValues values, Verdict verdict, String reason) {
        return result(
                key,
                values,
                OptionalDouble.empty(),
                OptionalDouble.empty(),
                verdict,
                reason,
                List.of(),
                Assessment.NONE);
    }

    private GroupResult with(
            GroupKey key,
            GroupValues values,
            double value,
            Verdict verdict,
            String reason,
            List<Integer> shifts,
            Assessment shown) {
        return result(
                key,
                values,
                OptionalDouble.of(figures.in(value)),
                OptionalDouble.of(figures.margin(value, clause.bound())),
                verdict,
                reason,
                shifts,
                shown.in(figures));
    }

    private static GroupResult result(
            GroupKey key,
            GroupValues values,
            OptionalDouble value,
            OptionalDouble margin,
            Verdict verdict,
            String reason,
            List<Integer> shifts,
            Assessment shown) {
        return new GroupResult(
                key.names(),
                values.n(),
                values.notMeasured(),
                values.notApplicable(),
                values.displaced(),
                values.notMade(),
                value,
                margin,
                shown,
                verdict,
                reason,
                shifts);
    }
}
