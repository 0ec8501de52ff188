package org.shiftstand.angle;

import org.shiftstand.capture.SampleBlock;

/**
 * How often a Hall pair is the one before to the last digit, looked at in stretches of {@value #STRETCH} samples.
 *
 * <p>Noise of a count or more leaves both outputs alike in less than one of ten neighbours, whatever the shaft does; then {@link
 * Frozen#SAMPLES} alike in a row are no chance (less than 10⁻³⁰). With less noise, or a logger that repeats or holds values, a
 * shaft at rest may look so too, and nothing is told.
 */
final class Repeats {
    static final int STRETCH = 16;

    private static final int FEWEST = 64;
    private static final double MOST_ALIKE = 0.1;
    /** A capture that stands still for more of its time holds values where the shaft rests. */
    private static final double MOST_FROZEN = 0.2;

    private final boolean alsoUnpowered;
    private long stretches;
    private long alike;
    private long frozen;

    /** @param alsoUnpowered whether samples count that say that the sensors were off */
    Repeats(boolean alsoUnpowered) {
        this.alsoUnpowered = alsoUnpowered;
    }

    void add(SampleBlock block) {
        for (int i = 0; i + STRETCH <= block.size(); i += STRETCH) {
            if (alsoUnpowered || (block.powered[i] && block.powered[i + STRETCH - 1])) {
                stretches++;
                if (standsStill(block, i)) {
                    frozen++;
                } else {
                    alike += block.hallCos[i] == block.hallCos[i + 1] && block.hallSin[i] == block.hallSin[i + 1]
                            ? 1
                            : 0;
                }
            }
        }
    }

    /** Whether the stretch from {@code from} on is one pair; nearly always its ends tell. */
    static boolean standsStill(SampleBlock block, int from) {
        double cos = block.hallCos[from];
        double sin = block.hallSin[from];
        int i = from + STRETCH - 1;
        while (i > from && block.hallCos[i] == cos && block.hallSin[i] == sin) {
            i--;
        }
        return i == from;
    }

    /** Whether frozen samples can be told in this capture. */
    boolean tell() {
        long others = stretches - frozen;
        return others >= FEWEST && alike <= MOST_ALIKE * others && frozen <= MOST_FROZEN * stretches;
    }
}
