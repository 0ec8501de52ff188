package org.shiftstand.document;

import java.util.Optional;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;

/**
 * A size together with the time that it lasts or is averaged over: {@code 9 A for 20 ms}, {@code 2 A over 2 s}. A current
 * limit always has one: inrush at the start of motion is no fault.
 *
 * @param size above 0
 * @param duration above 0
 */
public record Lasting(Quantity size, Quantity duration) {
    /** {@code 9 A for 20 ms}: more than this for that long. */
    public static Optional<Lasting> currentFor(Node node) {
        return read(
                node,
                "for",
                "a current with its duration, such as '9 A for 20 ms': inrush at the start of motion is no" + " fault");
    }

    /** {@code 2 A over 2 s}: a mean of more than this over that long. */
    public static Optional<Lasting> currentOver(Node node) {
        return read(node, "over", "a mean current with its duration, such as '2 A over 2 s'");
    }

    private static Optional<Lasting> read(Node node, String word, String expected) {
        Optional<String> text = node.text(expected);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        int at = text.get().indexOf(" " + word + " ");
        if (at > 0) {
            try {
                Quantity size = Quantity.parse(text.get().substring(0, at));
                Quantity duration = Quantity.parse(text.get().substring(at + word.length() + 2));
                if (fits(size, Dimension.CURRENT) && fits(duration, Dimension.TIME)) {
                    return Optional.of(new Lasting(size, duration));
                }
            } catch (NotAQuantity e) {
                node.problem(node.name() + ": " + e.getMessage());
                return Optional.empty();
            }
        }
        node.problem(node.name() + " is '" + Scalar.shortened(text.get()) + "'; expected " + expected);
        return Optional.empty();
    }

    private static boolean fits(Quantity quantity, Dimension dimension) {
        return quantity.unit().dimension() == dimension && quantity.value() > 0;
    }
}
