package org.shiftstand.bench;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.bench.RigDescription.Guards;
import org.shiftstand.document.Lasting;
import org.shiftstand.document.Node;
import org.shiftstand.document.Span;
import org.shiftstand.document.Table;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.Quantity;

/** Reads what cuts the supply. */
final class GuardsReader {
    /** What a bench supply for such drives gives; also the window where the file names none. */
    private static final double HIGHEST_SUPPLY_V = 60;

    /** As many as a procedure can have. */
    private static final int MOST_SHIFTS = 1_000_000;

    private GuardsReader() {}

    /** The guards; empty where any of them is wrong or missing, which is noted. */
    static Optional<Guards> read(Table table) {
        table.only("current", "average-current", "on-time", "temperature", "supply", "duty", "total-on-time", "shifts");
        Optional<Lasting> current =
                table.need("current", "the likes of '9 A for 20 ms'").flatMap(Lasting::currentFor);
        Optional<Lasting> average =
                table.need("average-current", "the likes of '2 A over 2 s'").flatMap(Lasting::currentOver);
        Optional<Quantity> onTime =
                table.need("on-time", "the likes of '20 min/h'").flatMap(GuardsReader::onTime);
        Optional<Quantity> temperature = table.need("temperature", "the likes of '60 degC'")
                .flatMap(node -> node.positive(Dimension.TEMPERATURE));
        Optional<Node> supply = table.find("supply");
        Optional<Span> window = supply.flatMap(GuardsReader::window);
        Optional<Node> duty = table.find("duty");
        Optional<Quantity> share = duty.flatMap(GuardsReader::share);
        Optional<Node> total = table.find("total-on-time");
        Optional<Quantity> totalTime = total.flatMap(node -> node.positive(Dimension.TIME));
        Optional<Node> shifts = table.find("shifts");
        Optional<Integer> mostShifts = shifts.flatMap(node -> node.whole(1, MOST_SHIFTS));
        if (current.isEmpty()
                || average.isEmpty()
                || onTime.isEmpty()
                || temperature.isEmpty()
                || window.isPresent() != supply.isPresent()
                || share.isPresent() != duty.isPresent()
                || totalTime.isPresent() != total.isPresent()
                || mostShifts.isPresent() != shifts.isPresent()) {
            return Optional.empty();
        }
        return Optional.of(new Guards(
                current.get().size().base(),
                current.get().duration().base(),
                average.get().size().base(),
                average.get().duration().base(),
                onTime.get().base(),
                temperature.get().base(),
                window.map(span -> span.low().base()).orElse(0.0),
                window.map(span -> span.high().base()).orElse(HIGHEST_SUPPLY_V),
                base(share),
                base(totalTime),
                mostShifts.map(OptionalInt::of).orElse(OptionalInt.empty())));
    }

    private static Optional<Quantity> onTime(Node node) {
        return node.per("h", Dimension.TIME, "a duration in each hour, such as '20 min/h'")
                .filter(q -> {
                    if (q.base() > 3600) {
                        node.problem("on-time is " + q + " in an hour; expected at most 60 min/h");
                    }
                    return q.base() <= 3600;
                });
    }

    private static Optional<Quantity> share(Node node) {
        return node.quantity(Dimension.RATIO).filter(q -> {
            boolean good = q.base() > 0 && q.base() <= 1;
            if (!good) {
                node.problem("duty is " + q + "; expected more than 0 %, up to 100 %");
            }
            return good;
        });
    }

    private static OptionalDouble base(Optional<Quantity> quantity) {
        return quantity.map(q -> OptionalDouble.of(q.base())).orElse(OptionalDouble.empty());
    }

    private static Optional<Span> window(Node node) {
        return Span.read(node, Dimension.VOLTAGE, "the supplies that are allowed, such as '6 V..8.6 V'")
                .filter(span -> {
                    boolean good = span.low().base() >= 0 && span.high().base() <= HIGHEST_SUPPLY_V;
                    if (!good) {
                        node.problem(
                                "supply runs from " + span.low() + " to " + span.high() + "; expected 0 V to 60 V");
                    }
                    return good;
                });
    }
}
