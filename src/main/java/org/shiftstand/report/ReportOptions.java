package org.shiftstand.report;

import java.time.Instant;
import java.util.Optional;

/**
 * What a report says about itself.
 *
 * @param generated when it was made; printed in UTC on one line of its own. Empty for a report whose bytes must be the same
 *     whenever it is made: it says that its sign-off has the date
 * @param toolVersion version of this software
 */
public record ReportOptions(Optional<Instant> generated, String toolVersion) {
    public ReportOptions(Instant generated, String toolVersion) {
        this(Optional.of(generated), toolVersion);
    }

    /** The same bytes whenever it is made. */
    public static ReportOptions undated(String toolVersion) {
        return new ReportOptions(Optional.empty(), toolVersion);
    }

    /** {@code made at …}, after the word report or page. */
    String made() {
        return generated
                .map(at -> "made at " + Figures.utc(at))
                .orElse("without a date of its own: each signature beside it says when it was given");
    }

    /** The same for programs, RFC 3339; empty where there is none. */
    String madeAt() {
        return generated.map(Instant::toString).orElse("");
    }
}
