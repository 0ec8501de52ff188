package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.profile.Profile;

/**
 * Finds and measures the shifts of an angle track.
 *
 * <p>One pass over the track; memory grows with the number of shifts only. The same table whatever blocks the samples
 * come in. Nothing spans a break of the run: each part is measured as if it stood alone, and put onto the first by whole turns.
 */
public final class ShiftFinder {
    private ShiftFinder() {}

    /**
     * All shifts of a track, numbered and, with a profile, aligned to it.
     *
     * @param track as decoded; its sense need not be known
     * @param profile what is nominal for this kind of unit, where known
     * @param options band, dwell and what the user says of sense, numbers and limits
     */
    public static ShiftTable find(AngleTrack track, Optional<Profile> profile, ShiftOptions options) {
        List<List<Chain>> found = new ArrayList<>();
        new TrackScan(track, part -> assembler(track, profile, options, listOf(found, part))).run();
        return TableBuilder.build(found, track.breaks(), track.cycleDeg(), profile, options);
    }

    private static List<Chain> listOf(List<List<Chain>> found, int part) {
        while (found.size() <= part) {
            found.add(new ArrayList<>());
        }
        return found.get(part);
    }

    private static ShiftAssembler assembler(
            AngleTrack track, Optional<Profile> profile, ShiftOptions options, List<Chain> found) {
        boolean gated = track.channels().hallPower() || track.channels().window();
        Trace trace = new Trace(1 << 13);
        ShiftMeasurer measurer = new ShiftMeasurer(
                trace,
                track.cycleDeg(),
                options.bandDeg(),
                options.dwellS(),
                gated,
                track.channels().current(),
                track.channels().supply());
        return new ShiftAssembler(
                trace,
                options,
                track.intervalS(),
                !track.requests().isEmpty(),
                profile.isPresent(),
                gated,
                measurer,
                found::add);
    }
}
