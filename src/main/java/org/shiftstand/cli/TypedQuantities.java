package org.shiftstand.cli;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.Problem;
import org.shiftstand.quantity.Decimal;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;

/** Quantities and words typed behind options; what is wrong is collected, and empty is given back. */
final class TypedQuantities {
    private final List<Problem> problems;

    TypedQuantities(List<Problem> problems) {
        this.problems = problems;
    }

    /** In the base unit; empty without the option. */
    OptionalDouble above0(String option, @Nullable String typed, Dimension dimension) {
        return checked(option, typed, dimension, "above 0", false);
    }

    OptionalDouble from0(String option, @Nullable String typed, Dimension dimension) {
        return checked(option, typed, dimension, "of 0 or more", true);
    }

    /** More than 0 and less than 1. */
    OptionalDouble share(String option, String typed) {
        OptionalDouble read = read(option, typed, Dimension.RATIO);
        if (read.isPresent() && !(read.getAsDouble() > 0 && read.getAsDouble() < 1)) {
            return wrong(option, typed, "is no share; expected more than 0 % and less than 100 %, such as 50%");
        }
        // 99.9 % is 0.999, not 0.9990000000000001
        return read.isPresent() ? OptionalDouble.of(Double.parseDouble(Decimal.text(read.getAsDouble(), 12))) : read;
    }

    /** One of several words. */
    <T> Optional<T> word(String option, String typed, T[] among, Function<T, String> word) {
        Optional<T> found =
                Arrays.stream(among).filter(t -> word.apply(t).equals(typed)).findFirst();
        OneOf.check(option, typed, Arrays.stream(among).map(word).toList(), problems);
        return found;
    }

    private OptionalDouble checked(
            String option, @Nullable String typed, Dimension dimension, String range, boolean zero) {
        if (typed == null) {
            return OptionalDouble.empty();
        }
        OptionalDouble read = read(option, typed, dimension);
        if (read.isPresent() && !(read.getAsDouble() > 0 || zero && read.getAsDouble() == 0)) {
            return wrong(
                    option,
                    typed,
                    "is out of range; expected " + dimension.phrase() + " " + range + ", such as '"
                            + dimension.example() + "'");
        }
        return read;
    }

    private OptionalDouble read(String option, String typed, Dimension dimension) {
        try {
            Quantity quantity = Quantity.parse(typed);
            return quantity.unit().dimension() == dimension
                    ? OptionalDouble.of(quantity.base())
                    : wrong(
                            option,
                            typed,
                            "is " + quantity.unit().dimension().phrase() + "; expected " + dimension.phrase()
                                    + ", such as '" + dimension.example() + "'");
        } catch (NotAQuantity e) {
            problems.add(new Problem(option, 0, 0, String.valueOf(e.getMessage())));
            return OptionalDouble.empty();
        }
    }

    private OptionalDouble wrong(String option, String typed, String text) {
        problems.add(new Problem(option + " " + typed, 0, 0, text));
        return OptionalDouble.empty();
    }
}
