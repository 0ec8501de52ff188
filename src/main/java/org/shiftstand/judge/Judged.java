package org.shiftstand.judge;

import org.shiftstand.angle.AngleTrack;

/**
 * A judgement, with the angles behind it for drawings.
 *
 * @param track usable as long as the source is open
 */
public record Judged(Judgement judgement, AngleTrack track) {}
