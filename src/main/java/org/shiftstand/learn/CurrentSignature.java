package org.shiftstand.learn;

import org.shiftstand.quantity.Direction;

/**
 * The supply current of a shift over time from its request, mean over shifts.
 *
 * @param stepS spacing, seconds; value i belongs to i × stepS after the request
 * @param meanA length n, amperes; NaN where fewer than two shifts had a sample
 * @param sdA length n, amperes, divisor n − 1
 */
public record CurrentSignature(
        Direction direction, boolean overtravel, int shifts, double stepS, double[] meanA, double[] sdA) {}
