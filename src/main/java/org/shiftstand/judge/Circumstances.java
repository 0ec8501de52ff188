package org.shiftstand.judge;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.shiftstand.procedure.Procedure;

/**
 * What a report tells of a run beside its results.
 *
 * @param stated what people said of it
 * @param procedure the script that the shifts were made by; empty where none is known
 * @param began UTC of the first sample by the record's clock; empty for a capture
 * @param ended likewise of the last
 * @param departures files that went before those that the record or the spec names, a sentence each
 */
public record Circumstances(
        Particulars stated,
        Optional<Procedure> procedure,
        Optional<Instant> began,
        Optional<Instant> ended,
        List<String> departures) {
    public Circumstances {
        departures = List.copyOf(departures);
    }

    /** Nothing is known. */
    public static Circumstances unknown() {
        return new Circumstances(Particulars.none(), Optional.empty(), Optional.empty(), Optional.empty(), List.of());
    }
}
