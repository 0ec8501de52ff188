package org.shiftstand.document;

import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;

/**
 * A range of quantities, both ends inside: {@code 6 V..8.6 V}.
 *
 * @param high not below {@code low}
 */
public record Span(Quantity low, Quantity high) {
    private static final Pattern RANGE = Pattern.compile("(.+?)\\.\\.(.+)");

    /**
     * Reads a range of one dimension; a unit stands at each end.
     *
     * @param expected for the message, such as {@code a range such as '6 V..8.6 V'}
     */
    public static Optional<Span> read(Node node, Dimension dimension, String expected) {
        Optional<String> text = node.text(expected);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        Matcher range = RANGE.matcher(text.get());
        if (range.matches()) {
            try {
                Quantity low = Quantity.parse(range.group(1));
                Quantity high = Quantity.parse(range.group(2));
                boolean fits =
                        low.unit().dimension() == dimension && high.unit().dimension() == dimension;
                if (fits && low.base() <= high.base()) {
                    return Optional.of(new Span(low, high));
                }
                if (fits) {
                    node.problem(node.name() + " runs backwards; expected the smaller end first");
                    return Optional.empty();
                }
            } catch (NotAQuantity e) {
                node.problem(node.name() + ": " + e.getMessage());
                return Optional.empty();
            }
        }
        node.problem(node.name() + " is '" + Scalar.shortened(text.get()) + "'; expected " + expected);
        return Optional.empty();
    }
}
