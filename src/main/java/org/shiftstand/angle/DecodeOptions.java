package org.shiftstand.angle;

import java.util.Optional;

/**
 * How to decode.
 *
 * @param stored correction of a calibration, used as it is; empty to fit one from the capture itself
 * @param turnsPerCycle turns of the shaft in one turn of the Hall pair's electrical angle, above 0: 1 with the usual
 *     magnet, 1/2 with one of two periods a turn
 */
public record DecodeOptions(Optional<Correction> stored, double turnsPerCycle) {
    public DecodeOptions {
        if (!(turnsPerCycle > 0) || Double.isInfinite(turnsPerCycle)) {
            throw new IllegalArgumentException("turns in a cycle must be above 0: turnsPerCycle=" + turnsPerCycle);
        }
    }

    /** Everything from the capture, of a magnet with one period a turn. */
    public static DecodeOptions fromCapture() {
        return new DecodeOptions(Optional.empty(), 1);
    }

    public static DecodeOptions calibrated(Correction stored) {
        return new DecodeOptions(Optional.of(stored), stored.turnsPerCycle());
    }

    /**
     * Of a magnet whose field goes round {@code periods} times in one turn of the shaft, 1 or more.
     *
     * <p>The shaft's angle is the electrical angle over {@code periods}, and so is its error. What is known but for
     * electrical turns is known but for so much less of a turn: neighbours more than half an electrical turn apart are
     * ambiguous, and between sensing windows the smallest motion is taken. An error that comes once a turn of the
     * shaft, as of unequal poles, is not corrected.
     */
    public DecodeOptions withPeriodsPerTurn(int periods) {
        if (periods < 1) {
            throw new IllegalArgumentException("a magnet has one period a turn or more: periods=" + periods);
        }
        return withTurnsPerCycle(1.0 / periods);
    }

    /** The inverse, for gears between shaft and magnet too. */
    public DecodeOptions withTurnsPerCycle(double turns) {
        return new DecodeOptions(stored, turns);
    }
}
