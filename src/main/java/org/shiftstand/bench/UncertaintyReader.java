package org.shiftstand.bench;

import java.util.List;
import java.util.Optional;
import org.shiftstand.bench.Contribution.Nature;
import org.shiftstand.bench.Declared.Input;
import org.shiftstand.document.Node;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads declared uncertainties of a rig description. */
final class UncertaintyReader {
    private static final String EXAMPLE =
            "{ what: backlash, of: angle, half-width: 0.5 deg, nature: each, from: measured with a dial }";
    private static final int MOST_FREEDOM = 1_000_000;

    private UncertaintyReader() {}

    /** All of them; what is wrong is noted and left out. */
    static List<Declared> read(Node list) {
        return list.items("a list of uncertainties such as " + EXAMPLE).stream()
                .flatMap(item -> item.table(EXAMPLE).stream())
                .flatMap(table -> one(table).stream())
                .toList();
    }

    private static Optional<Declared> one(Table table) {
        table.only(
                "what",
                "of",
                "measure",
                "standard",
                "expanded",
                "half-width",
                "distribution",
                "nature",
                "freedom",
                "from");
        Optional<String> what = table.need("what", "what makes the readings uncertain, such as backlash")
                .flatMap(node -> node.oneOf("sort of uncertainty", Declared.SORTS));
        Optional<Nature> nature = table.need(
                        "nature", "each, common or scale: how errors of several shifts go together")
                .flatMap(node -> node.oneOf("nature", List.of("each", "common", "scale")))
                .flatMap(Nature::of);
        Optional<String> from = table.need("from", "where the figure comes from, in words")
                .flatMap(node -> node.text("where the figure comes from, in words"));
        Optional<Integer> freedom = table.find("freedom").flatMap(node -> node.whole(1, MOST_FREEDOM));
        Optional<Input> of = table.find("of")
                .flatMap(node -> node.oneOf("reading", Input.words()))
                .flatMap(Input::of);
        List<String> measures =
                table.find("measure").map(UncertaintyReader::measures).orElse(List.of());
        if (table.find("of").isPresent() == table.find("measure").isPresent()) {
            table.problem("key 'of' or 'measure' is needed in " + table.name()
                    + ", and not both; expected the reading that is uncertain (of: angle, time, current or supply), or the"
                    + " measures");
        }
        Optional<Dimension> dimension = of.map(Input::dimension).or(() -> dimension(table, measures));
        Optional<Double> standard =
                nature.flatMap(n -> dimension.flatMap(d -> standard(table, n == Nature.SCALE ? Dimension.RATIO : d)));
        if (what.isEmpty() || from.isEmpty() || nature.isEmpty() || standard.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Declared(
                what.get(),
                of,
                measures,
                standard.get(),
                nature.get(),
                freedom.map(Integer::doubleValue).orElse(Double.POSITIVE_INFINITY),
                from.get()));
    }

    private static List<String> measures(Node node) {
        return node.oneOrMany().stream()
                .flatMap(item -> item.oneOf("measure", JudgedMeasures.keys()).stream())
                .toList();
    }

    private static Optional<Dimension> dimension(Table table, List<String> measures) {
        List<Dimension> kinds =
                measures.stream().map(JudgedMeasures::dimension).distinct().toList();
        if (kinds.size() > 1) {
            table.problem("measure names " + String.join(", ", measures)
                    + ", which are not of one dimension; expected one entry for each dimension");
        }
        return kinds.size() == 1 ? Optional.of(kinds.get(0)) : Optional.empty();
    }

    /** One of three ways to say it. */
    private static Optional<Double> standard(Table table, Dimension dimension) {
        long ways = List.of("standard", "expanded", "half-width").stream()
                .filter(key -> table.find(key).isPresent())
                .count();
        if (ways != 1) {
            table.problem(
                    "needs one of the keys 'standard', 'expanded' and 'half-width', and has " + ways
                            + "; expected the standard uncertainty, an expanded one with its factor, or the half-width of an interval");
            return Optional.empty();
        }
        if (table.find("distribution").isPresent() && table.find("half-width").isEmpty()) {
            table.problem(
                    "key 'distribution' says what is known within a half-width; expected it beside 'half-width' only");
        }
        return table.find("standard")
                .flatMap(node -> node.positive(dimension))
                .map(Quantity::base)
                .or(() -> table.find("expanded").flatMap(node -> expanded(node, dimension)))
                .or(() -> table.find("half-width").flatMap(node -> halfWidth(table, node, dimension)));
    }

    private static Optional<Double> expanded(Node node, Dimension dimension) {
        Optional<Table> table = node.table("{ value: " + dimension.example() + ", factor: 2 }");
        table.ifPresent(t -> t.only("value", "factor"));
        Optional<Quantity> value = table.flatMap(t -> t.need("value", "the expanded uncertainty, with its unit"))
                .flatMap(n -> n.positive(dimension));
        Optional<Quantity> factor = table.flatMap(t -> t.need("factor", "its coverage factor, such as 2"))
                .flatMap(n -> n.positive(Dimension.RATIO));
        return value.flatMap(v -> factor.map(f -> v.base() / f.base()));
    }

    /** JCGM 100:2008, 4.3: what an interval without more knowledge is worth. */
    private static Optional<Double> halfWidth(Table table, Node node, Dimension dimension) {
        Optional<String> distribution = table.find("distribution").isEmpty()
                ? Optional.of("rectangular")
                : table.find("distribution")
                        .flatMap(n ->
                                n.oneOf("distribution", List.of("rectangular", "triangular", "normal", "arcsine")));
        return node.positive(dimension).flatMap(half -> distribution.map(shape -> half.base() / divisor(shape)));
    }

    private static double divisor(String distribution) {
        return switch (distribution) {
            case "rectangular" -> Math.sqrt(3); // 4.3.7
            case "triangular" -> Math.sqrt(6); // 4.3.9
            case "arcsine" -> Math.sqrt(2); // H.1.3.4: a cycle's amplitude
            default -> 1.959963984540054; // normal, the half-width holding 95 %: 4.3.4
        };
    }
}
