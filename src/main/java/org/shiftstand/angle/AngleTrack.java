package org.shiftstand.angle;

import java.util.List;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;

/**
 * The angle of the gearbox output shaft over time, re-readable; degrees, unwrapped, positive inboard once the sense is
 * known (the track itself is in the sense it was opened with). Its origin is arbitrary: the first sample's turn.
 */
public interface AngleTrack {
    /** A new pass from the first sample. */
    AngleReader open();

    /** A new pass that starts at or before {@code fromS}, with the same angles as a pass from the start. For drawings. */
    AngleReader open(double fromS);

    /** The same track with electrical turns added behind breaks, so that its angles are those of a table that says so. */
    default AngleTrack rebased(List<Rebase> rebases) {
        return rebases.stream().allMatch(r -> r.turns() == 0) ? this : new RebasedTrack(this, List.copyOf(rebases));
    }

    /**
     * Electrical turns that belong to the angles behind a break, up to the next.
     *
     * @param boundaryS samples later than this are behind it
     * @param turns added, each {@link #cycleDeg()} in the sense of the track
     */
    record Rebase(double boundaryS, int turns) {}

    /** How the Hall pair was corrected, with residuals. */
    Correction correction();

    /** One electrical turn of the Hall pair, degrees of the shaft: what angles may be off by where a turn is not known. */
    default double cycleDeg() {
        return 360 * correction().turnsPerCycle();
    }

    SampleSource.Channels channels();

    double intervalS();

    List<Request> requests();

    List<Double> supplyCuts();

    /** Where the run was broken off and gone on with; the first sample behind has {@link AngleBlock#BREAK} before it. */
    default List<SampleSource.Break> breaks() {
        return List.of();
    }
}
