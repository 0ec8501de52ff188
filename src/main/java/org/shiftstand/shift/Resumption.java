package org.shiftstand.shift;

import java.util.Locale;
import java.util.OptionalInt;

/**
 * A break of the run, and what it did to the table.
 *
 * @param fromS last sample before it, seconds
 * @param toS first sample behind it, seconds
 * @param cause why, as the record says it; may be empty
 * @param shiftsBefore number of the last shift before it, 0 where there is none
 * @param brokenOff number of the shift that was under way, where one was; its cycle in the table is 0, no clause is about it
 * @param turns electrical turns (whole turns with the usual magnet) that the table has added to the angles behind it, in the sense of the track, up to the next
 *     break; empty where they could not be told
 * @param tie how they were told, or that they were not: words for readers
 */
public record Resumption(
        double fromS,
        double toS,
        String cause,
        int shiftsBefore,
        OptionalInt brokenOff,
        OptionalInt turns,
        String tie) {
    /** Place in time, duration by the record's clock, cause, what was broken off and how angles go on: one sentence. */
    public String sentence() {
        return String.format(
                Locale.ROOT,
                "the run was broken off at %.3f s and went on %.3f s later by the record's clock%s: %s; %s",
                fromS,
                toS - fromS,
                cause.isBlank() ? "" : " (" + cause + ")",
                brokenOff.isEmpty()
                        ? "no shift was broken off"
                        : "1 shift was broken off (shift " + brokenOff.getAsInt() + "), no clause is about it",
                tie);
    }
}
