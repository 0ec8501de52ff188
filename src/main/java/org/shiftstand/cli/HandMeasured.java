package org.shiftstand.cli;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;
import org.shiftstand.quantity.Dimension;
import org.shiftstand.quantity.NotAQuantity;
import org.shiftstand.quantity.Quantity;

/**
 * Limits as a person measured them and typed them in.
 *
 * @param outboard as typed; null where not given, likewise the others
 */
record HandMeasured(
        @Nullable String outboard,
        @Nullable String inboard,
        @Nullable String by,
        @Nullable String on) {
    /** Whether anything of it was typed, {@code --by} apart, which a search has too. */
    boolean any() {
        return outboard != null || inboard != null || on != null;
    }

    /**
     * The limits.
     *
     * @param today nobody has measured after it
     * @throws BadInput with everything that is missing or wrong
     */
    UnitLimits read(String unit, LocalDate today) {
        List<Problem> problems = new ArrayList<>();
        OptionalDouble outboardDeg = angle("--outboard", outboard, problems);
        OptionalDouble inboardDeg = angle("--inboard", inboard, problems);
        Optional<LocalDate> day = day(today, problems);
        Optional<String> name = Optional.ofNullable(by).map(String::strip).filter(text -> !text.isEmpty());
        if (name.isEmpty()) {
            problems.add(missing("--by", "who measured"));
        }
        if (outboardDeg.isPresent()
                && inboardDeg.isPresent()
                && !(outboardDeg.getAsDouble() < inboardDeg.getAsDouble())) {
            problems.add(new Problem(
                    "--inboard " + inboard,
                    0,
                    0,
                    "is not above the outboard limit, " + outboard + "; expected angles positive inboard"));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
        return new UnitLimits(
                unit,
                day.orElseThrow(),
                UnitLimits.Method.BY_HAND,
                name,
                new UnitLimits.Side(outboardDeg.getAsDouble(), OptionalDouble.empty()),
                new UnitLimits.Side(inboardDeg.getAsDouble(), OptionalDouble.empty()),
                Optional.empty(),
                Optional.empty(),
                "");
    }

    private static OptionalDouble angle(String option, @Nullable String typed, List<Problem> problems) {
        if (typed == null) {
            problems.add(missing(option, "an angle such as '-515 deg'"));
            return OptionalDouble.empty();
        }
        try {
            Quantity q = Quantity.parse(typed);
            if (q.unit().dimension() == Dimension.ANGLE && Math.abs(q.base()) < 1e6) {
                return OptionalDouble.of(q.base());
            }
            problems.add(new Problem(
                    option + " " + typed, 0, 0, "is no angle of the output shaft; expected one such as '-515 deg'"));
        } catch (NotAQuantity e) {
            problems.add(new Problem(option, 0, 0, String.valueOf(e.getMessage())));
        }
        return OptionalDouble.empty();
    }

    private Optional<LocalDate> day(LocalDate today, List<Problem> problems) {
        if (on == null) {
            problems.add(missing("--on", "the day of measuring, such as 2026-09-14"));
            return Optional.empty();
        }
        return TypedDay.read(on, today, "the day of measuring", problems);
    }

    private static Problem missing(String option, String expected) {
        return new Problem(
                option,
                0,
                0,
                "is missing: limits measured by hand need --outboard, --inboard, --by and --on; expected " + expected);
    }
}
