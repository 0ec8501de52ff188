package org.shiftstand.judge;

import org.shiftstand.angle.AngleTrack;

/**
 * A judgement, with the angles behind it for drawings.
 *
 * @param track usable as long as the source is open
 */
public record Judged(Judgement judgement, AngleTrack track) {
    /** The same, with what its report tells beside the results. */
    Judged in(Circumstances circumstances) {
        return new Judged(judgement.in(circumstances), track);
    }
}
