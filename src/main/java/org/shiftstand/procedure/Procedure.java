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
 * @param origin where the steps stand in their file, for messages
 */
public record Procedure(
        String name,
        int version,
        double sampleRateHz,
        List<Step> steps,
        StopWhen stopWhen,
        String sha256,
        Origin origin) {
    public Procedure {
        steps = List.copyOf(steps);
    }

    /** A procedure that stands in no file. */
    public Procedure(
            String name, int version, double sampleRateHz, List<Step> steps, StopWhen stopWhen, String sha256) {
        this(name, version, sampleRateHz, steps, stopWhen, sha256, new Origin(name, List.of()));
    }

    /**
     * What ends the run early.
     *
     * @param outcomes words of outcomes
     * @param currentAboveA with {@code currentForS}: current above this for that long
     */
    public record StopWhen(List<String> outcomes, OptionalDouble currentAboveA, OptionalDouble currentForS) {}

    /**
     * Where the steps stand.
     *
     * @param file as the user named it
     * @param lines line of each step, 1-based, in reading order, those inside a {@code repeat} after it; may be empty
     */
    public record Origin(String file, List<Integer> lines) {
        public Origin {
            lines = List.copyOf(lines);
        }

        /** Line of a step by its place in reading order, 1-based; 0 where it is not known. */
        int line(int place) {
            return place <= lines.size() ? lines.get(place - 1) : 0;
        }
    }
}
