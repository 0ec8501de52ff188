package org.shiftstand.learn;

import java.util.List;

/**
 * The traces of all shifts of a row (of many the first ones), aligned at their requests, for drawings.
 *
 * @param more how many further shifts were left out
 */
public record Overlay(int from, int to, double stepS, List<Strand> strands, int more) {
    public Overlay {
        strands = List.copyOf(strands);
    }

    /**
     * One shift.
     *
     * @param source index into the sources learned from
     * @param shift its number there
     * @param heldBack whether it was kept for proving
     * @param angleDeg from the start of the shift, in the direction of motion, length n; NaN where there is none
     */
    public record Strand(int source, int shift, boolean heldBack, float[] angleDeg) {}
}
