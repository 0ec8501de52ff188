package org.shiftstand.capture;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Where the numbers of a capture column are from: {@code (column − minus) × scale}.
 *
 * @param column header of the column
 * @param minus header of the column that is taken off, as of a differential pair
 * @param scale factor, finite and not 0; a power of ten only moves the point
 * @param onAbove of a level that stands for yes or no: above it is 1, else 0
 */
public record ColumnFrom(String column, Optional<String> minus, double scale, OptionalDouble onAbove) {
    public ColumnFrom {
        if (!Double.isFinite(scale) || scale == 0) {
            throw new IllegalArgumentException("a scale is a number other than 0: scale=" + scale);
        }
    }

    /** A column as it is. */
    public static ColumnFrom of(String column) {
        return new ColumnFrom(column, Optional.empty(), 1, OptionalDouble.empty());
    }

    ColumnFrom minus(String other) {
        return new ColumnFrom(column, Optional.of(other), scale, onAbove);
    }

    ColumnFrom times(double factor) {
        return new ColumnFrom(column, minus, factor, onAbove);
    }

    ColumnFrom above(double level) {
        return new ColumnFrom(column, minus, scale, OptionalDouble.of(level));
    }
}
