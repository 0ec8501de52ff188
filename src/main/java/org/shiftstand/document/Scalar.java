package org.shiftstand.document;

import java.util.Optional;
import java.util.regex.Pattern;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;
import org.shiftstand.quantity.Unit;

/** A single value: text, number, true, false or nothing, by the core schema of YAML 1.2. */
public final class Scalar extends Node {
    /** What YAML 1.2 takes a plain scalar for. */
    public enum Kind {
        TEXT,
        WHOLE,
        DECIMAL,
        TRUTH,
        NOTHING
    }

    // YAML 1.2.2, 10.3.2; octal, hexadecimal, .inf and .nan are left out on purpose: here they are text, and refused
    private static final Pattern WHOLE = Pattern.compile("[-+]?[0-9]+");
    private static final Pattern DECIMAL = Pattern.compile("[-+]?(\\.[0-9]+|[0-9]+(\\.[0-9]*)?)([eE][-+]?[0-9]+)?");
    private static final Pattern TRUTH = Pattern.compile("true|True|TRUE|false|False|FALSE");
    private static final Pattern NOTHING = Pattern.compile("|~|null|Null|NULL");

    private final String value;
    private final Kind kind;

    Scalar(Problems problems, String name, Place place, String value, boolean plain) {
        super(problems, name, place);
        this.value = value;
        this.kind = plain ? kind(value) : Kind.TEXT;
    }

    private static Kind kind(String value) {
        if (NOTHING.matcher(value).matches()) {
            return Kind.NOTHING;
        }
        if (TRUTH.matcher(value).matches()) {
            return Kind.TRUTH;
        }
        if (WHOLE.matcher(value).matches()) {
            return Kind.WHOLE;
        }
        return DECIMAL.matcher(value).matches() ? Kind.DECIMAL : Kind.TEXT;
    }

    /** Its text as written, without quotes. */
    public String value() {
        return value;
    }

    public Kind kind() {
        return kind;
    }

    @Override
    public Optional<String> text(String expected) {
        return kind == Kind.TEXT && !value.isBlank() ? Optional.of(value) : refuse(expected);
    }

    @Override
    public Optional<Boolean> yesOrNo() {
        return kind == Kind.TRUTH ? Optional.of(value.charAt(0) == 't' || value.charAt(0) == 'T') : super.yesOrNo();
    }

    @Override
    public Optional<Integer> whole(int least, int most) {
        if (kind == Kind.WHOLE || kind == Kind.DECIMAL) {
            double number = Double.parseDouble(value);
            if (number == Math.rint(number) && least <= number && number <= most) {
                return Optional.of((int) number); // 4.0 is a whole number too, for JSON Schema as well
            }
        }
        return super.whole(least, most);
    }

    @Override
    public Optional<Quantity> quantity(Dimension dimension) {
        String expected = dimension.phrase() + " such as '" + dimension.example() + "'";
        boolean bare = dimension == Dimension.COUNT || dimension == Dimension.RATIO;
        return quantity(expected).filter(q -> {
            boolean fits = q.unit().dimension() == dimension || (bare && q.unit() == Unit.ONE);
            if (!fits) {
                problem(wrongUnit(q, expected));
            }
            return fits;
        });
    }

    private String wrongUnit(Quantity q, String expected) {
        return q.unit() == Unit.ONE
                ? name() + " is the bare number " + value + "; expected " + expected
                : name() + " is " + q.unit().dimension().phrase() + ", '" + value + "'; expected " + expected;
    }

    @Override
    public Optional<Quantity> quantity(String expected) {
        if (kind == Kind.NOTHING || kind == Kind.TRUTH || value.isBlank()) {
            return refuse(expected);
        }
        try {
            Quantity q = Quantity.parse(value);
            if (kind == Kind.TEXT && q.unit() == Unit.ONE) {
                return refuse(expected); // a number in quotes is text, also for the schema
            }
            return Optional.of(q);
        } catch (NotAQuantity e) {
            problem(name() + ": " + e.getMessage());
            return Optional.empty();
        }
    }

    @Override
    String described() {
        return switch (kind) {
            case TEXT -> value.isBlank() ? "empty text" : "the text '" + shortened(value) + "'";
            case WHOLE, DECIMAL -> "the number " + shortened(value);
            case TRUTH -> value;
            case NOTHING -> "empty";
        };
    }

    static String shortened(String text) {
        String line = text.strip().replaceAll("\\s+", " ");
        return line.codePointCount(0, line.length()) <= 60
                ? line
                : line.substring(0, line.offsetByCodePoints(0, 57)) + "…";
    }
}
