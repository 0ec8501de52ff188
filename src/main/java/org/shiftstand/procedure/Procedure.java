package org.shiftstand.procedure;

import java.util.List;
import java.util.OptionalDouble;

/**
 * A script of sweeps.
 *
 * @param sampleRateHz asked of the rig
 * @param steps in order
 * @param stopWhen what ends the run early
 * @param sha256 digest of the file's text
 */
public record Procedure(
        String name, int version, double sampleRateHz, List<Step> steps, StopWhen stopWhen, String sha256) {
    public Procedure {
        steps = List.copyOf(steps);
    }

    /**
     * What ends the run early.
     *
     * @param outcomes words of outcomes
     * @param currentAboveA with {@code currentForS}: current above this for that long
     */
    public record StopWhen(List<String> outcomes, OptionalDouble currentAboveA, OptionalDouble currentForS) {}
}
