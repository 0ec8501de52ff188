package org.shiftstand.spec;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads a statistic: a word, or {@code { percentile: 95 % }}. */
final class StatisticReader {
    static final List<String> WORDS =
            Arrays.stream(Statistic.Kind.values()).map(Statistic.Kind::word).toList();
    private static final List<String> LATER = List.of(
            "tolerance-interval",
            "repeatability",
            "reversal",
            "capability",
            "drift",
            "change-point",
            "first-failure",
            "equivalent-to");

    private StatisticReader() {}

    static Optional<Statistic> read(Node node) {
        if (node instanceof Table table) {
            return parameterised(table);
        }
        Optional<Statistic.Kind> kind = Decision.known(node, "statistic", WORDS, LATER)
                .flatMap(word -> Arrays.stream(Statistic.Kind.values())
                        .filter(k -> k.word().equals(word))
                        .findFirst());
        if (kind.isPresent() && kind.get() == Statistic.Kind.PERCENTILE) {
            node.problem("percentile does not say which; expected '{ percentile: 95 % }'");
            return Optional.empty();
        }
        return kind.map(k -> new Statistic(k, 0));
    }

    private static Optional<Statistic> parameterised(Table table) {
        Optional<String> later = table.keys().stream().filter(LATER::contains).findFirst();
        if (later.isPresent()) {
            table.problem("statistic '" + later.get()
                    + "' is a known word, but this version does not have it; expected one of "
                    + String.join(", ", WORDS));
            return Optional.empty();
        }
        table.only("percentile");
        Optional<Node> node = table.need("percentile", "which one, such as '{ percentile: 95 % }'");
        Optional<Quantity> share = node.flatMap(n -> n.quantity(Dimension.RATIO));
        share.filter(q -> !(q.base() > 0 && q.base() < 1))
                .ifPresent(q -> node.orElse(table)
                        .problem("percentile is " + q + "; expected more than 0 % and less than 100 %"));
        return share.map(q -> new Statistic(Statistic.Kind.PERCENTILE, q.base()));
    }
}
