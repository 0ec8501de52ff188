package org.shiftstand.procedure;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.shiftstand.document.Items;
import org.shiftstand.document.Lasting;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.procedure.Procedure.OutcomeRule;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.quantity.Quantity;

/** Reads {@code stop-when}: one mapping of rules, or a list of them. */
final class StopReader {
    /** Words of outcomes that can end a run; a landing does not, and what is not known cannot. */
    private static final List<String> ENDING =
            List.of("interrupted", "not-settled", "reversed", "missed", "stalled", "short", "double");

    private static final int MOST_TIMES = 1_000_000;

    private final List<OutcomeRule> rules = new ArrayList<>();
    private Optional<Lasting> current = Optional.empty();
    private Optional<Lasting> average = Optional.empty();

    StopWhen read(Node node) {
        String expected = "{ outcome: […], current-above: 9 A for 20 ms }, or a list of such";
        List<Node> items = node instanceof Items list ? list.items(expected) : List.of(node);
        items.forEach(item -> item.table(expected).ifPresent(this::take));
        return new StopWhen(rules, size(current), duration(current), size(average), duration(average));
    }

    private void take(Table table) {
        table.only("outcome", "times", "current-above", "average-current-above");
        Optional<Node> outcome = table.find("outcome");
        Optional<Node> times = table.find("times");
        Optional<Integer> count = times.isEmpty() ? Optional.of(1) : times.get().whole(1, MOST_TIMES);
        if (outcome.isPresent()) {
            var words = new ArrayList<String>();
            outcome.get()
                    .oneOrMany()
                    .forEach(item -> item.oneOf("outcome", ENDING).ifPresent(words::add));
            count.ifPresent(n -> rules.add(new OutcomeRule(words, n)));
        } else if (times.isPresent()) {
            table.problem("key 'outcome' is missing in " + table.name() + "; 'times' counts shifts of an outcome,"
                    + " such as '{ outcome: missed, times: 3 }'");
        }
        current = once(
                table, "current-above", current, table.find("current-above").flatMap(Lasting::currentFor));
        average = once(
                table,
                "average-current-above",
                average,
                table.find("average-current-above").flatMap(Lasting::currentOver));
    }

    private static Optional<Lasting> once(Table table, String key, Optional<Lasting> before, Optional<Lasting> now) {
        if (before.isPresent() && now.isPresent()) {
            table.find(key).ifPresent(node -> node.problem(key + " is given twice; expected once"));
        }
        return now.isPresent() ? now : before;
    }

    private static OptionalDouble size(Optional<Lasting> lasting) {
        return base(lasting.map(Lasting::size));
    }

    private static OptionalDouble duration(Optional<Lasting> lasting) {
        return base(lasting.map(Lasting::duration));
    }

    private static OptionalDouble base(Optional<Quantity> quantity) {
        return quantity.map(q -> OptionalDouble.of(q.base())).orElse(OptionalDouble.empty());
    }
}
