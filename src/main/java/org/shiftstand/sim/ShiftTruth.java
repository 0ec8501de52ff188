package org.shiftstand.sim;

import java.util.List;
import java.util.OptionalDouble;
import org.shiftstand.quantity.Direction;

/**
 * What one shift really was: the measures of the guide, from the noise-free motion between two requests.
 *
 * <p>Angles in degrees of output shaft, positive inboard, 0 at the nominal position of sprocket 1; times in seconds on the
 * rig's clock. A measure that does not exist is empty.
 *
 * @param number 1-based, in order of requests, refused ones not counted
 * @param cycle opened by each departure from sprocket 1; 0 before the first
 * @param from sprocket the unit stood nearest to
 * @param to sprocket asked for; {@code from} at the end of the cassette
 * @param outcome word: {@code interrupted, not-settled, reversed, missed, stalled, short, double, landed}
 * @param evidence what the samples can show: {@code complete, gap, sensor-fault}
 * @param requestS when the unit was asked
 * @param startDeg at rest before
 * @param motionStartS first time 20 deg from the start
 * @param landingDeg where the shaft came to rest
 * @param plateauDeg rest beyond the landing
 * @param overtravelDeg from landing to plateau, in the direction of motion; 0 without a plateau
 * @param ringingDeg farthest past the first rest, in the direction of motion
 * @param returnRingingDeg farthest past the landing, against the direction of motion, after the plateau
 * @param holdS within 20 deg of the plateau
 * @param restHoldS within 10 deg of the plateau
 * @param travelTimeS request to 20 deg before the landing
 * @param settledS last entry into 20 deg about the landing
 * @param settleTimeS request to settled
 * @param extremeDeg farthest angle in the direction of motion
 * @param clearanceDeg from there to the mechanical limit on that side
 * @param creepDeg this start minus the last landing; empty for the first shift
 * @param peakCurrentA maximum of the current itself, which samples meet only by chance
 * @param faults that struck this shift, in the order of {@link FaultKind}
 */
public record ShiftTruth(
        int number,
        int cycle,
        int from,
        int to,
        Direction direction,
        String outcome,
        String evidence,
        double requestS,
        double startDeg,
        OptionalDouble motionStartS,
        OptionalDouble landingDeg,
        OptionalDouble plateauDeg,
        OptionalDouble overtravelDeg,
        OptionalDouble ringingDeg,
        OptionalDouble returnRingingDeg,
        OptionalDouble holdS,
        OptionalDouble restHoldS,
        OptionalDouble travelTimeS,
        OptionalDouble settledS,
        OptionalDouble settleTimeS,
        double extremeDeg,
        OptionalDouble clearanceDeg,
        OptionalDouble creepDeg,
        double peakCurrentA,
        List<FaultKind> faults) {
    public ShiftTruth {
        faults = List.copyOf(faults);
    }
}
