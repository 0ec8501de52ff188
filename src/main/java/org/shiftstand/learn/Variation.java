package org.shiftstand.learn;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.shift.Measure;

/**
 * How a measure scatters, rows' own means taken out.
 *
 * @param withinSd from shift to shift of one unit, pooled over rows and units, base unit
 * @param withinFreedom degrees of freedom of it
 * @param units how many
 * @param betweenSd from unit to unit (analysis of variance; 0 where the units' means scatter no more than shifts explain);
 *     empty below two units
 * @param totalSd of any shift of any unit of the kind; of one unit's own shifts below three units
 * @param totalFreedom Satterthwaite
 * @param meanWorth how many independent shifts a row's mean is worth for such a shift
 * @param uneven rows that scatter more than the others (Brown–Forsythe, then Holm), as {@code 3→4}
 */
public record Variation(
        Measure measure,
        double withinSd,
        double withinFreedom,
        int units,
        OptionalDouble betweenSd,
        double totalSd,
        double totalFreedom,
        double meanWorth,
        List<String> uneven) {
    public Variation {
        uneven = List.copyOf(uneven);
    }

    /** Fewer say nothing of other units: at least three are needed. */
    public static final int LEAST_UNITS = 3;

    /** Whether bounds from it hold for other units of the kind. */
    public boolean ofTheKind() {
        return units >= LEAST_UNITS;
    }
}
