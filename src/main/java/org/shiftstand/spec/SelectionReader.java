package org.shiftstand.spec;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.document.Node;
import org.shiftstand.document.Scalar;
import org.shiftstand.document.Span;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Direction;
import org.shiftstand.spec.Selection.Range;

/** Reads {@code where}: each key a value, a list of them, or a range such as {@code 2..6}. */
final class SelectionReader {
    private static final int MOST = 1_000_000;
    private static final Pattern WHOLES = Pattern.compile("([0-9]{1,7})\\.\\.([0-9]{1,7})");
    private static final Selection ALL =
            new Selection(Optional.empty(), List.of(), List.of(), List.of(), List.of(), List.of());

    private final Table table;
    private boolean good = true;

    private SelectionReader(Table table) {
        this.table = table;
    }

    /** The selection, all shifts without a node; empty where it is wrong, which is noted. */
    static Optional<Selection> read(Optional<Node> node) {
        if (node.isEmpty()) {
            return Optional.of(ALL);
        }
        return node.get()
                .table("a selection such as { direction: inboard, to: 2..6 }")
                .flatMap(table -> new SelectionReader(table).selection());
    }

    private Optional<Selection> selection() {
        table.only("direction", "from", "to", "cycle", "step", "supply");
        List<String> directions = each("direction", n -> n.oneOf("direction", List.of("inboard", "outboard")));
        var selection = new Selection(
                directions.stream().distinct().count() == 1
                        ? Optional.of(directions.get(0).equals("inboard") ? Direction.INBOARD : Direction.OUTBOARD)
                        : Optional.empty(),
                each("from", SelectionReader::wholes),
                each("to", SelectionReader::wholes),
                each("cycle", SelectionReader::wholes),
                each("step", n -> n.text("the label of a step, such as sweep-3")),
                each("supply", SelectionReader::volts));
        return good ? Optional.of(selection) : Optional.empty();
    }

    private <T> List<T> each(String key, Function<Node, Optional<T>> reader) {
        Optional<Node> node = table.find(key);
        if (node.isEmpty()) {
            return List.of();
        }
        List<Node> items = node.get().oneOrMany();
        var read = new ArrayList<T>();
        items.forEach(item -> reader.apply(item).ifPresent(read::add));
        good &= read.size() == items.size() && !items.isEmpty();
        return List.copyOf(read);
    }

    private static Optional<Range> wholes(Node node) {
        if (node instanceof Scalar scalar && scalar.kind() == Scalar.Kind.TEXT) {
            Matcher range = WHOLES.matcher(scalar.value());
            if (!range.matches()) {
                node.problem(node.name() + " is '" + scalar.value()
                        + "'; expected a whole number, a range such as 2..6, or a" + " list of them");
                return Optional.empty();
            }
            return range(node, Integer.parseInt(range.group(1)), Integer.parseInt(range.group(2)), 1);
        }
        return node.whole(1, MOST).map(n -> new Range(n, n));
    }

    private static Optional<Range> volts(Node node) {
        if (node instanceof Scalar scalar && scalar.value().contains("..")) {
            return Span.read(node, Dimension.VOLTAGE, "a range such as '7.4 V..8.4 V'")
                    .flatMap(span -> range(node, span.low().base(), span.high().base(), 0));
        }
        return node.quantity(Dimension.VOLTAGE).map(q -> new Range(q.base(), q.base()));
    }

    private static Optional<Range> range(Node node, double low, double high, double least) {
        if (low > high) {
            node.problem(node.name() + " runs backwards; expected the smaller end first");
            return Optional.empty();
        }
        if (low < least || high > MOST) {
            node.problem(node.name() + " is out of bounds; expected " + (int) least + " to " + MOST);
            return Optional.empty();
        }
        return Optional.of(new Range(low, high));
    }
}
