package org.shiftstand.angle;

/**
 * How often a Hall pair is the one before to the last digit.
 *
 * <p>Noise of a count or more leaves both outputs alike in less than one of ten neighbours, whatever the shaft does; then {@link
 * Frozen#SAMPLES} alike in a row are no chance (less than 10⁻³⁰). With less noise, or a logger that repeats or holds values, a
 * shaft at rest may look so too, and nothing is told.
 */
final class Repeats {
    private static final int FEWEST = 1000;
    private static final double MOST_ALIKE = 0.1;
    /** A capture that stands still for more of its time holds values where the shaft rests. */
    private static final double MOST_FROZEN = 0.2;

    private double lastCos = Double.NaN;
    private double lastSin = Double.NaN;
    private int run;
    private long samples;
    private long alike;
    private long frozen;

    void add(double cos, double sin) {
        samples++;
        if (cos == lastCos && sin == lastSin) {
            run++;
        } else if (run > 0) {
            ended();
        }
        lastCos = cos;
        lastSin = sin;
    }

    private void ended() {
        if (run >= Frozen.SAMPLES) {
            frozen += run;
        } else {
            alike += run;
        }
        run = 0;
    }

    /** Whether frozen samples can be told in this capture; of all samples added, the last call. */
    boolean tell() {
        ended();
        long others = samples - frozen;
        return others >= FEWEST && alike <= MOST_ALIKE * others && frozen <= MOST_FROZEN * samples;
    }
}
