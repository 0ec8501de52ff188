package org.shiftstand.bench;

import java.util.OptionalDouble;

/**
 * What is known of a rig before it is connected.
 *
 * @param port serial port, empty for a simulated rig
 * @param speed baud
 * @param drive {@code requests} or {@code direct}
 * @param currentScaleA ampere a count; empty means the rig's own statement is used
 * @param sha256 digest of the file's text
 */
public record RigDescription(
        String name, String port, int speed, String drive, Guards guards, OptionalDouble currentScaleA, String sha256) {
    /**
     * What cuts the supply: in the rig first, in the host second.
     *
     * @param currentA with {@code currentForS}: a current above this for that long
     * @param averageA with {@code averageOverS}: a mean current above this over that long
     * @param onTimeS most on-time in an hour, seconds
     */
    public record Guards(
            double currentA,
            double currentForS,
            double averageA,
            double averageOverS,
            double onTimeS,
            double temperatureC,
            double supplyMinV,
            double supplyMaxV) {}
}
