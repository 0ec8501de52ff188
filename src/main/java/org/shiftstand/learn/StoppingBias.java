package org.shiftstand.learn;

import java.util.OptionalDouble;

/**
 * How far the shaft stops from where the firmware aims.
 *
 * <p>Model: a landing is position + direction × reversal − approach × bias, where direction is that of the shift and
 * approach that of its last motion, each +1 inboard and −1 outboard. So overtravel as achieved is the programmed one minus
 * twice the bias: the shaft stops short on the way out and on the way back. The bias can be told from reversal only where
 * some sprockets are reached inboard with overtravel and others without.
 *
 * @param biasDeg positive short of the target; 0 where it is not known
 * @param halfWidthDeg of its confidence interval; infinite where it is not known
 * @param reversalDeg how far shifts inboard land beyond, those outboard before the position; empty where not known
 * @param from how it is known, or why it is not, a sentence for readers
 * @param known whether it is known at all
 */
public record StoppingBias(
        double biasDeg, double halfWidthDeg, OptionalDouble reversalDeg, String from, boolean known) {}
