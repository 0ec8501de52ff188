package org.shiftstand.document;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;

/**
 * A value in a YAML file, with its place. Whoever asks for what it does not hold gets nothing, and the problem is noted:
 * nothing read may be used before {@link Problems#check()}.
 */
public abstract sealed class Node permits Scalar, Items, Table {
    private final Problems problems;
    private final String name;
    private final Place place;

    Node(Problems problems, String name, Place place) {
        this.problems = problems;
        this.name = name;
        this.place = place;
    }

    /** What to call it: its key, or the like of {@code item 3 of positions}. */
    public String name() {
        return name;
    }

    public Place place() {
        return place;
    }

    /** Notes a problem at this place. */
    public void problem(String text) {
        problems.add(place, text);
    }

    Problems problems() {
        return problems;
    }

    /** What it is, for sentences: {@code the text 'abc'}, {@code a list}. */
    abstract String described();

    /** As a mapping of keys to values. */
    public Optional<Table> table(String expected) {
        return refuse(expected);
    }

    /** As a list with at least one item. */
    public List<Node> items(String expected) {
        refuse(expected);
        return List.of();
    }

    /** A list's items, or this one alone. */
    public List<Node> oneOrMany() {
        return List.of(this);
    }

    /** As text that is not blank. */
    public Optional<String> text(String expected) {
        return refuse(expected);
    }

    /** As {@code true} or {@code false}. */
    public Optional<Boolean> yesOrNo() {
        return refuse("true or false");
    }

    /** As a whole number, both ends allowed. */
    public Optional<Integer> whole(int least, int most) {
        return refuse("a whole number from " + least + " to " + most);
    }

    /** As a quantity of one dimension; a bare number only where it is a count or a ratio. */
    public Optional<Quantity> quantity(Dimension dimension) {
        return refuse(dimension.phrase() + " such as '" + dimension.example() + "'");
    }

    /** As a quantity of whatever dimension; a bare number has the unit {@code ONE}. */
    public Optional<Quantity> quantity(String expected) {
        return refuse(expected);
    }

    /** As one of some words; {@code what} they are goes into the message, such as {@code statistic}. */
    public final Optional<String> oneOf(String what, List<String> words) {
        Optional<String> word = text("one of " + String.join(", ", words));
        if (word.isPresent() && !words.contains(word.get())) {
            problem("unknown " + what + " '" + word.get() + "'; expected one of " + String.join(", ", words) + "."
                    + Nearest.hint(word.get(), words));
            return Optional.empty();
        }
        return word;
    }

    /** As a name that can be part of a file's name. */
    public final Optional<String> identifier() {
        return text("a name").filter(text -> {
            boolean good = text.matches("[A-Za-z0-9._-]{1,64}");
            if (!good) {
                problem("the name '" + Scalar.shortened(text)
                        + "' cannot be used; expected 1 to 64 of A-Z a-z 0-9 . _ -");
            }
            return good;
        });
    }

    /** As a quantity for each of something: {@code 1.2 mA/count}; above 0. */
    public final Optional<Quantity> per(String each, Dimension dimension, String expected) {
        Optional<String> text = text(expected);
        if (text.isPresent() && text.get().endsWith("/" + each)) {
            try {
                Quantity q = Quantity.parse(text.get().substring(0, text.get().length() - each.length() - 1));
                if (q.unit().dimension() == dimension && q.value() > 0) {
                    return Optional.of(q);
                }
            } catch (NotAQuantity e) {
                problem(name + ": " + e.getMessage());
                return Optional.empty();
            }
        }
        text.ifPresent(t -> problem(name + " is '" + Scalar.shortened(t) + "'; expected " + expected));
        return Optional.empty();
    }

    /** As a quantity above 0 of one dimension. */
    public final Optional<Quantity> positive(Dimension dimension) {
        return quantity(dimension).filter(q -> {
            if (q.value() <= 0) {
                problem(name + " is " + q + "; expected " + dimension.phrase() + " above 0");
            }
            return q.value() > 0;
        });
    }

    /** As a list of quantities of one dimension; empty where any of them is none. */
    public final Optional<List<Quantity>> quantities(Dimension dimension) {
        var read = new ArrayList<Quantity>();
        List<Node> items = items("a list of " + dimension.phrase().replaceFirst("^an? ", "") + "s such as ["
                + dimension.example() + ", …]");
        items.forEach(item -> item.quantity(dimension).ifPresent(read::add));
        return read.size() == items.size() && !items.isEmpty() ? Optional.of(read) : Optional.empty();
    }

    final <T> Optional<T> refuse(String expected) {
        problem(name + " is " + described() + "; expected " + expected);
        return Optional.empty();
    }
}
