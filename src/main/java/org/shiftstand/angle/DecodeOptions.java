package org.shiftstand.angle;

import java.util.Optional;

/**
 * How to decode.
 *
 * @param stored correction of a calibration, used as it is; empty to fit one from the capture itself
 */
public record DecodeOptions(Optional<Correction> stored) {
    /** Everything from the capture. */
    public static DecodeOptions fromCapture() {
        return new DecodeOptions(Optional.empty());
    }

    public static DecodeOptions calibrated(Correction stored) {
        return new DecodeOptions(Optional.of(stored));
    }
}
