package org.shiftstand.spec;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Direction;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

/** A clause made up for a test. */
public final class Demand {
    private final Optional<Measure> measure;
    private final Optional<Clause.OutcomeTest> outcome;
    private final Statistic statistic;
    private String id = "clause";
    private List<Per> per = List.of();
    private Bound bound = new Bound(OptionalDouble.empty(), OptionalDouble.empty(), Unit.ONE);
    private OptionalInt needs = OptionalInt.empty();
    private double mayMiss = 0.02;
    private Decision decision = Decision.USUAL;
    private Optional<Direction> direction = Optional.empty();
    private List<Selection.Range> to = List.of();
    private List<Selection.Range> cycle = List.of();
    private List<String> step = List.of();
    private List<Selection.Range> supply = List.of();

    private Demand(Optional<Measure> measure, Optional<Clause.OutcomeTest> outcome, Statistic statistic) {
        this.measure = measure;
        this.outcome = outcome;
        this.statistic = statistic;
    }

    public static Demand of(Measure measure, Statistic.Kind kind) {
        return new Demand(Optional.of(measure), Optional.empty(), new Statistic(kind, 0));
    }

    public static Demand percentile(Measure measure, double fraction) {
        return new Demand(Optional.of(measure), Optional.empty(), new Statistic(Statistic.Kind.PERCENTILE, fraction));
    }

    public static Demand outcomes(Statistic.Kind kind, boolean negated, Outcome... outcomes) {
        return new Demand(
                Optional.empty(),
                Optional.of(new Clause.OutcomeTest(List.of(outcomes), negated)),
                new Statistic(kind, 0));
    }

    /** A statistic with settings, limits in base units. */
    public static Demand of(Measure measure, Statistic statistic) {
        return new Demand(Optional.of(measure), Optional.empty(), statistic);
    }

    public Demand decision(Decision decision) {
        this.decision = decision;
        return this;
    }

    public Demand guarded() {
        return decision(new Decision(Decision.Rule.GUARDED, decision.claim(), 0.95, OptionalDouble.empty()));
    }

    public Demand guarded(double falseAccept) {
        return decision(new Decision(Decision.Rule.GUARDED, decision.claim(), 0.95, OptionalDouble.of(falseAccept)));
    }

    public Demand process() {
        return decision(
                new Decision(decision.rule(), Decision.Claim.PROCESS, decision.confidence(), decision.falseAccept()));
    }

    public Demand id(String id) {
        this.id = id;
        return this;
    }

    public Demand per(Per... per) {
        this.per = List.of(per);
        return this;
    }

    /** Base values; the unit is only the one that the author wrote. */
    public Demand atMost(double value, Unit unit) {
        bound = new Bound(OptionalDouble.empty(), OptionalDouble.of(value), unit);
        return this;
    }

    public Demand atLeast(double value, Unit unit) {
        bound = new Bound(OptionalDouble.of(value), OptionalDouble.empty(), unit);
        return this;
    }

    public Demand between(double low, double high, Unit unit) {
        bound = new Bound(OptionalDouble.of(low), OptionalDouble.of(high), unit);
        return this;
    }

    public Demand needs(int needs) {
        this.needs = OptionalInt.of(needs);
        return this;
    }

    public Demand mayMiss(double share) {
        this.mayMiss = share;
        return this;
    }

    public Demand direction(Direction direction) {
        this.direction = Optional.of(direction);
        return this;
    }

    public Demand to(int low, int high) {
        to = List.of(new Selection.Range(low, high));
        return this;
    }

    public Demand cycles(int low, int high) {
        cycle = List.of(new Selection.Range(low, high));
        return this;
    }

    public Demand step(String... labels) {
        step = List.of(labels);
        return this;
    }

    public Demand supply(double low, double high) {
        supply = List.of(new Selection.Range(low, high));
        return this;
    }

    public Clause clause() {
        return new Clause(
                id,
                measure,
                outcome,
                new Selection(direction, List.of(), to, cycle, step, supply),
                statistic,
                per,
                bound,
                needs,
                mayMiss,
                decision,
                "",
                1);
    }

    public static Spec spec(Demand... demands) {
        return new Spec(
                "tarn-drive-test",
                1,
                "Tarn drive, made up for a test",
                Optional.empty(),
                20,
                java.util.Arrays.stream(demands).map(Demand::clause).toList(),
                "0".repeat(64));
    }
}
