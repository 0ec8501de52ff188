package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;

/** Reads one clause and checks that its parts fit together. */
final class ClauseReader {
    static final double DEFAULT_MAY_MISS = 0.02;

    private static final String OUTCOME = "outcome";
    private static final List<String> OUTCOMES = Arrays.stream(Outcome.values())
            .filter(o -> o != Outcome.UNKNOWN)
            .map(Outcome::word)
            .toList();
    private static final List<String> PER =
            Arrays.stream(Per.values()).map(Per::word).toList();

    private final Table table;
    private final Decision ofTheSpec;

    /** @param ofTheSpec what holds where the clause does not say */
    ClauseReader(Table table, Decision ofTheSpec) {
        this.table = table;
        this.ofTheSpec = ofTheSpec;
    }

    /** The clause; empty where anything of it is wrong, which is noted. */
    Optional<Clause> clause() {
        table.only(
                "id",
                "measure",
                "is",
                "is-not",
                "where",
                "statistic",
                "per",
                "at-most",
                "at-least",
                "between",
                "needs",
                "may-miss",
                "rule",
                "claim",
                "confidence",
                "false-accept",
                "because");
        Optional<String> id = table.need("id", "a name for the clause").flatMap(Node::identifier);
        Optional<String> measure = table.need("measure", "what is judged, such as landing")
                .flatMap(node -> node.oneOf("measure", measures()));
        Optional<Clause.OutcomeTest> outcome = outcome(measure);
        Optional<Selection> where = SelectionReader.read(table.find("where"));
        Optional<Statistic> statistic = table.need("statistic", "one of " + String.join(", ", StatisticReader.WORDS))
                .flatMap(node -> new StatisticReader(measure).read(node));
        Optional<List<Per>> per = per();
        Optional<Bound> bound = bound(measure, statistic);
        Optional<OptionalInt> needs = needs(statistic);
        Optional<Double> mayMiss = mayMiss();
        Optional<String> because =
                table.find("because").map(n -> n.text("the reason, in words")).orElse(Optional.of(""));
        Decision decision = DecisionReader.read(table, ofTheSpec);
        if (measure.isPresent() && statistic.isPresent() && per.isPresent()) {
            new ClauseFit(table, measure.get(), statistic.get(), per.get(), where).check(decision);
        }
        if (id.isEmpty()
                || measure.isEmpty()
                || where.isEmpty()
                || statistic.isEmpty()
                || per.isEmpty()
                || bound.isEmpty()
                || needs.isEmpty()
                || mayMiss.isEmpty()
                || because.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Clause(
                id.get(),
                measureOf(measure.get()),
                outcome,
                where.get(),
                statistic.get(),
                per.get(),
                bound.get(),
                needs.get(),
                mayMiss.get(),
                decision,
                because.get(),
                table.place().line()));
    }

    private Optional<Bound> bound(Optional<String> measure, Optional<Statistic> statistic) {
        if (measure.isEmpty() || statistic.isEmpty()) {
            BoundReader.checkUnits(table, measure); // a wrong unit is told all the same
            return Optional.empty();
        }
        return new BoundReader(table, measure.get(), statistic.get()).bound();
    }

    private static List<String> measures() {
        var words = new ArrayList<String>();
        Arrays.stream(Measure.values())
                .filter(Measure::judged)
                .map(Measure::key)
                .forEach(words::add);
        words.add(OUTCOME);
        return words;
    }

    static Optional<Measure> measureOf(String key) {
        return Arrays.stream(Measure.values()).filter(m -> m.key().equals(key)).findFirst();
    }

    private Optional<Clause.OutcomeTest> outcome(Optional<String> measure) {
        Optional<Node> is = table.find("is");
        Optional<Node> isNot = table.find("is-not");
        boolean onOutcome = measure.filter(OUTCOME::equals).isPresent();
        if (is.isPresent() && isNot.isPresent()) {
            isNot.get().problem("both 'is' and 'is-not'; expected one of them");
        } else if (onOutcome && is.isEmpty() && isNot.isEmpty()) {
            table.problem("a clause on outcome needs 'is' or 'is-not'; expected the likes of 'is-not: landed'");
        } else if (!onOutcome && measure.isPresent()) {
            is.or(() -> isNot)
                    .ifPresent(node -> node.problem("'" + node.name() + "' goes with measure outcome only; expected a"
                            + " bound: at-most, at-least or between"));
        }
        return is.or(() -> isNot).map(node -> {
            var named = new ArrayList<Outcome>();
            node.oneOrMany()
                    .forEach(item -> item.oneOf(OUTCOME, OUTCOMES)
                            .flatMap(word -> Arrays.stream(Outcome.values())
                                    .filter(o -> o.word().equals(word))
                                    .findFirst())
                            .ifPresent(named::add));
            return new Clause.OutcomeTest(List.copyOf(named), isNot.isPresent());
        });
    }

    private Optional<List<Per>> per() {
        Optional<Node> node = table.find("per");
        if (node.isEmpty()) {
            return Optional.of(List.of());
        }
        List<Node> items = node.get().oneOrMany();
        var read = new ArrayList<Per>();
        for (Node item : items) {
            item.oneOf("grouping", PER)
                    .flatMap(word -> Arrays.stream(Per.values())
                            .filter(p -> p.word().equals(word))
                            .findFirst())
                    .ifPresent(p -> {
                        if (read.contains(p)) {
                            item.problem("grouping '" + p.word() + "' is given twice; expected it once");
                        }
                        read.add(p);
                    });
        }
        return read.size() == items.size() && !items.isEmpty() ? Optional.of(List.copyOf(read)) : Optional.empty();
    }

    /** {@code 20 shifts} or a bare count. */
    private Optional<OptionalInt> needs(Optional<Statistic> statistic) {
        Optional<Node> node = table.find("needs");
        if (node.isEmpty()) {
            return Optional.of(OptionalInt.empty());
        }
        Optional<Quantity> needs = node.get().quantity(Dimension.COUNT);
        if (needs.isEmpty()) {
            return Optional.empty();
        }
        double count = needs.get().value();
        if (needs.get().unit() == Unit.CYCLES) {
            node.get().problem("needs is " + needs.get() + "; expected shifts, such as '20 shifts'");
            return Optional.empty();
        }
        if (count != Math.rint(count) || count < 1 || count > 1_000_000) {
            node.get().problem("needs is " + needs.get() + "; expected a whole number of shifts from 1 to 1000000");
            return Optional.empty();
        }
        int least = statistic.map(s -> s.kind().least()).orElse(1);
        if (count < least) {
            node.get()
                    .problem("needs is " + needs.get() + "; expected at least " + least + ": one shift has no "
                            + statistic.map(s -> s.kind().word()).orElse("value"));
            return Optional.empty();
        }
        return Optional.of(OptionalInt.of((int) count));
    }

    private Optional<Double> mayMiss() {
        Optional<Node> node = table.find("may-miss");
        if (node.isEmpty()) {
            return Optional.of(DEFAULT_MAY_MISS);
        }
        Optional<Quantity> share = node.get().quantity(Dimension.RATIO);
        share.filter(q -> q.base() < 0 || q.base() >= 1)
                .ifPresent(
                        q -> node.get().problem("may-miss is " + q + "; expected a share from 0 % to less than 100 %"));
        return share.map(Quantity::base);
    }
}
