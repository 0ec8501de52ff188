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

    /** How the Hall pair was corrected, with residuals. */
    Correction correction();

    SampleSource.Channels channels();

    double intervalS();

    List<Request> requests();

    List<Double> supplyCuts();
}
