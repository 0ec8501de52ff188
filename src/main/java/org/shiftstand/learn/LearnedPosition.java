package org.shiftstand.learn;

import java.util.OptionalDouble;

/**
 * Where a sprocket is, in degrees from the programmed position of sprocket 1, or of the outermost that was seen.
 *
 * @param sprocket 1…N
 * @param programmedDeg where the firmware aims, stopping bias and reversal taken back as far as they are known
 * @param halfWidthDeg of its confidence interval, measurement included; 0 for sprocket 1, which is the origin
 * @param inboard landings of shifts that came inboard; not estimated for sprocket 1
 * @param outboard landings of shifts that came outboard; not estimated for sprocket N
 * @param pitchMm to the next sprocket inboard, millimetres of cage travel, where the screw lead is known; empty for N
 */
public record LearnedPosition(
        int sprocket,
        double programmedDeg,
        double halfWidthDeg,
        Estimated inboard,
        Estimated outboard,
        OptionalDouble pitchMm) {}
