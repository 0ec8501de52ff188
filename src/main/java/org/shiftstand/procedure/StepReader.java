package org.shiftstand.procedure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;
import org.shiftstand.document.Nearest;
import org.shiftstand.document.Node;
import org.shiftstand.document.Scalar;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads the steps of a procedure. */
final class StepReader {
    static final List<String> KINDS = List.of("supply", "home", "sweep", "visit", "random-walk", "rest", "repeat");

    /** More than any cassette has. */
    private static final int MOST_SPROCKETS = 64;

    private static final int MOST_TIMES = 1_000_000;
    /** Cells of a bench supply; a drive that asks for more is not what a rig powers. */
    private static final double HIGHEST_SUPPLY_V = 60;

    /** What the program itself calls steps and what leads to them. */
    private static final Pattern OWN_LABEL =
            Pattern.compile("(home|return|position|supply|sweep|visit|random-walk|rest|repeat)(-[0-9]+)?");

    private static final double LONGEST_REST_S = 24 * 3600.0;

    private final List<Integer> lines;

    /** @param lines takes the line of each step in reading order */
    StepReader(List<Integer> lines) {
        this.lines = lines;
    }

    List<Step> steps(Node node) {
        var steps = new ArrayList<Step>();
        for (Node item : node.items("a list of steps: " + String.join(", ", KINDS))) {
            item.table("a step such as '- home: {}'").flatMap(this::step).ifPresent(steps::add);
        }
        return steps;
    }

    private Optional<Step> step(Table table) {
        lines.add(table.place().line());
        table.only(KINDS.toArray(String[]::new));
        List<String> kinds = table.keys().stream().filter(KINDS::contains).toList();
        if (table.keys().isEmpty() || kinds.size() > 1) {
            table.problem("a step has " + (kinds.isEmpty() ? "nothing in it" : "both " + String.join(" and ", kinds))
                    + "; expected one of " + String.join(", ", KINDS) + ", each as its own list item");
        }
        if (kinds.size() != 1) {
            return Optional.empty();
        }
        Node value = table.find(kinds.get(0)).orElse(table);
        return switch (kinds.get(0)) {
            case "supply" -> supply(value);
            case "home" -> home(value);
            case "sweep" ->
                value.table("{ from: 1, to: last, and-back: true, times: 24, rest: 350 ms }")
                        .flatMap(this::sweep);
            case "visit" ->
                value.table("{ sprockets: [1, 4, 2], times: 10, rest: 350 ms }").flatMap(this::visit);
            case "random-walk" ->
                value.table("{ shifts: 200, seed: 7, rest: 350 ms }").flatMap(this::walk);
            case "rest" -> duration(value).map(Step.Rest::new);
            case "repeat" -> value.table("{ times: 3, steps: […] }").flatMap(this::repeat);
            default -> throw new IllegalStateException("no such step: kind=" + kinds.get(0));
        };
    }

    private static Optional<Step> supply(Node node) {
        if (node instanceof Scalar scalar
                && scalar.kind() == Scalar.Kind.TEXT
                && scalar.value().equals("off")) {
            return Optional.of(new Step.SupplyOff());
        }
        if (node instanceof Scalar word && word.value().chars().allMatch(Character::isLetter)) {
            node.problem("supply is '" + word.value() + "'; expected a voltage such as '8.2 V', or 'off'");
            return Optional.empty();
        }
        return node.quantity(Dimension.VOLTAGE).flatMap(volts -> {
            if (volts.base() < 0 || volts.base() > HIGHEST_SUPPLY_V) {
                node.problem("supply is " + volts + "; expected 'off', or up to 60 V");
                return Optional.empty();
            }
            return Optional.of(volts.base() == 0 ? new Step.SupplyOff() : new Step.Supply(volts.base()));
        });
    }

    private static Optional<Step> home(Node node) {
        Optional<Table> table = node.table("'{}': home has no settings");
        if (table.filter(t -> !t.keys().isEmpty()).isPresent()) {
            node.problem("home has no settings; expected 'home: {}'");
            return Optional.empty();
        }
        return table.map(t -> new Step.Home());
    }

    private Optional<Step> sweep(Table table) {
        table.only("from", "to", "and-back", "times", "rest", "label");
        Optional<Integer> from =
                table.need("from", "the sprocket where it starts").flatMap(StepReader::sprocket);
        Optional<Node> toNode = table.need("to", "the sprocket where it turns or ends, or 'last'");
        Optional<OptionalInt> to = toNode.flatMap(StepReader::sprocketOrLast);
        Optional<Boolean> andBack = table.find("and-back").map(Node::yesOrNo).orElse(Optional.of(false));
        Optional<Integer> times = times(table, 1);
        Optional<Double> rest = rest(table);
        Optional<Optional<String>> label = label(table);
        if (from.isPresent()
                && to.isPresent()
                && to.get().isPresent()
                && to.get().getAsInt() == from.get()) {
            toNode.orElse(table)
                    .problem("a sweep from sprocket " + from.get() + " to itself shifts nothing; expected another one");
            return Optional.empty();
        }
        if (from.isEmpty()
                || to.isEmpty()
                || andBack.isEmpty()
                || times.isEmpty()
                || rest.isEmpty()
                || label.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Step.Sweep(from.get(), to.get(), andBack.get(), times.get(), rest.get(), label.get()));
    }

    private Optional<Step> visit(Table table) {
        table.only("sprockets", "times", "rest", "label");
        Optional<Node> node = table.need("sprockets", "a list of sprockets such as [1, 4, 2]");
        List<Node> items =
                node.map(n -> n.items("a list of sprockets such as [1, 4, 2]")).orElse(List.of());
        var sprockets = new ArrayList<Integer>();
        items.forEach(item -> sprocket(item).ifPresent(sprockets::add));
        Optional<Integer> times = times(table, 1);
        Optional<Double> rest = rest(table);
        Optional<Optional<String>> label = label(table);
        if (sprockets.size() < items.size()
                || items.isEmpty()
                || times.isEmpty()
                || rest.isEmpty()
                || label.isEmpty()) {
            return Optional.empty();
        }
        for (int i = 1; i < items.size(); i++) {
            if (sprockets.get(i).equals(sprockets.get(i - 1))) {
                items.get(i)
                        .problem("sprocket " + sprockets.get(i)
                                + " twice in a row shifts nothing; expected another one");
            }
        }
        if (items.size() < 2) {
            node.orElse(table).problem("a visit to one sprocket; expected at least two");
        }
        return Optional.of(new Step.Visit(sprockets, times.get(), rest.get(), label.get()));
    }

    private Optional<Step> walk(Table table) {
        table.only("shifts", "seed", "rest", "label");
        Optional<Integer> shifts = table.need("shifts", "how many shifts").flatMap(node -> node.whole(1, MOST_TIMES));
        Optional<Integer> seed = table.need("seed", "a whole number: the same seed gives the same walk")
                .flatMap(node -> node.whole(0, Integer.MAX_VALUE));
        Optional<Double> rest = rest(table);
        Optional<Optional<String>> label = label(table);
        return shifts.isEmpty() || seed.isEmpty() || rest.isEmpty() || label.isEmpty()
                ? Optional.empty()
                : Optional.of(new Step.RandomWalk(shifts.get(), seed.get(), rest.get(), label.get()));
    }

    private Optional<Step> repeat(Table table) {
        table.only("times", "steps");
        Optional<Integer> times = table.need("times", "how often").flatMap(node -> node.whole(1, MOST_TIMES));
        Optional<List<Step>> steps = table.need("steps", "a list of steps").map(this::steps);
        return times.isEmpty() || steps.isEmpty()
                ? Optional.empty()
                : Optional.of(new Step.Repeat(times.get(), steps.get()));
    }

    private static Optional<Integer> sprocket(Node node) {
        return node.whole(1, MOST_SPROCKETS);
    }

    private static Optional<OptionalInt> sprocketOrLast(Node node) {
        if (node instanceof Scalar scalar && scalar.kind() == Scalar.Kind.TEXT) {
            if (scalar.value().equals("last")) {
                return Optional.of(OptionalInt.empty());
            }
            node.problem(node.name() + " is '" + scalar.value() + "'; expected the number of a sprocket, or 'last'."
                    + Nearest.hint(scalar.value(), List.of("last")));
            return Optional.empty();
        }
        return sprocket(node).map(OptionalInt::of);
    }

    private static Optional<Integer> times(Table table, int otherwise) {
        return table.find("times").map(node -> node.whole(1, MOST_TIMES)).orElse(Optional.of(otherwise));
    }

    /** Empty inside where there is none; empty where it is wrong. */
    private static Optional<Optional<String>> label(Table table) {
        Optional<Node> node = table.find("label");
        return node.isEmpty()
                ? Optional.of(Optional.empty())
                : node.flatMap(Node::identifier)
                        .filter(label -> free(node.get(), label))
                        .map(Optional::of);
    }

    private static boolean free(Node node, String label) {
        boolean taken = OWN_LABEL.matcher(label).matches();
        if (taken) {
            node.problem("the label '" + label
                    + "' looks like one that the program gives; expected another name, such as 'reference'");
        }
        return !taken;
    }

    private static Optional<Double> rest(Table table) {
        return table.find("rest").map(StepReader::duration).orElse(Optional.of(0.0));
    }

    private static Optional<Double> duration(Node node) {
        return node.quantity(Dimension.TIME)
                .filter(q -> {
                    boolean good = q.base() >= 0 && q.base() <= LONGEST_REST_S;
                    if (!good) {
                        node.problem("rest is " + q + "; expected 0 ms to 24 h");
                    }
                    return good;
                })
                .map(Quantity::base);
    }
}
