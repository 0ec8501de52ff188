package org.shiftstand.sim;

/**
 * Two Hall outputs over the shaft's angle, as a 12-bit converter reads them: one electrical turn a shaft turn, with errors
 * of offset, gain and phase, and a third harmonic, that a real pair has.
 *
 * <p>counts = centre + gain × (sin φ + h·sin(3φ)) for the sine, with φ shifted by the phase error; likewise the cosine with
 * its own offset and gain. Invented data, drawn for each seed about common values.
 */
final class HallPair {
    static final int FULL_SCALE = 4095;

    private final double sinOffset;
    private final double cosOffset;
    private final double sinGain;
    private final double cosGain;
    private final double phaseRad;
    private final double thirdHarmonic;
    private final double zeroRad;

    // of the angle asked last: a resting shaft costs no sine
    private double lastDeg = Double.NaN;
    private double lastSin;
    private double lastCos;

    HallPair(Generator draws, double thirdHarmonic) {
        sinOffset = 2048 + draws.uniform(-90, 90);
        cosOffset = 2048 + draws.uniform(-90, 90);
        sinGain = draws.uniform(1380, 1500);
        cosGain = draws.uniform(1380, 1500);
        phaseRad = draws.uniform(-0.06, 0.06);
        zeroRad = draws.uniform(-StrictMath.PI, StrictMath.PI);
        this.thirdHarmonic = thirdHarmonic;
    }

    /** Sets the angle that {@link #sin} and {@link #cos} speak of, degrees of the shaft. */
    void at(double deg) {
        if (deg == lastDeg) {
            return;
        }
        double turns = deg / 360;
        double phi = (turns - StrictMath.rint(turns)) * (2 * StrictMath.PI) + zeroRad;
        double s = StrictMath.sin(phi + phaseRad);
        double c = StrictMath.cos(phi);
        // sin 3φ = 3 sin φ − 4 sin³ φ, cos 3φ = 4 cos³ φ − 3 cos φ
        lastSin = sinOffset + sinGain * (s + thirdHarmonic * (3 - 4 * s * s) * s);
        lastCos = cosOffset + cosGain * (c + thirdHarmonic * (4 * c * c - 3) * c);
        lastDeg = deg;
    }

    /** Sine output before noise, counts. */
    double sin() {
        return lastSin;
    }

    /** Cosine output before noise, counts. */
    double cos() {
        return lastCos;
    }

    /** What the converter gives: rounded half up, clipped to 0…4095. */
    static short counts(double value) {
        int rounded = (int) StrictMath.floor(value + 0.5);
        return (short) Math.max(0, Math.min(FULL_SCALE, rounded));
    }
}
