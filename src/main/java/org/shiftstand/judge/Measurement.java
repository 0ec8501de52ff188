package org.shiftstand.judge;

import java.util.List;
import java.util.Optional;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.profile.Profile;
import org.shiftstand.shift.ShiftTable;

/**
 * A source measured, not judged.
 *
 * @param track the angles behind the table; usable as long as the source is open
 * @param notices what a reader should be told once: of the source, of the correction, of the table
 */
public record Measurement(
        SourceIdentity source, Optional<Profile> profile, AngleTrack track, ShiftTable table, List<String> notices) {
    public Measurement {
        notices = List.copyOf(notices);
    }
}
