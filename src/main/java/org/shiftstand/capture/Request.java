package org.shiftstand.capture;

import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Direction;

/**
 * A request for one shift, marked in a capture or stamped by a rig.
 *
 * @param timeS when, seconds on the clock of the samples
 * @param direction which way was asked; empty where only a target or nothing but the instant is known
 * @param from sprocket the script was on, where known
 * @param to sprocket asked for, where known
 * @param cycle cycle of the script, 1-based, where known
 * @param step label of the procedure step, such as {@code sweep-3}, where known
 * @param supplyV supply voltage set by the procedure, where known
 * @param stamped true when a rig stamped the time (used as it is), false for a mark on a sample (placed between samples)
 */
public record Request(
        double timeS,
        Optional<Direction> direction,
        OptionalInt from,
        OptionalInt to,
        OptionalInt cycle,
        Optional<String> step,
        OptionalDouble supplyV,
        boolean stamped) {}
