package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.shiftstand.capture.Request;

/**
 * One shift measured on the track as decoded: sense, origin and numbers are not known yet. Angles in degrees of the
 * track; NaN where there is none.
 */
final class RawShift {
    static final String BROKEN_OFF = "the run was broken off in the shift";

    final Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
    final List<String> notes = new ArrayList<>();
    Optional<Request> request = Optional.empty();
    Span.Ending ending = Span.Ending.RESTED;
    Evidence evidence = Evidence.COMPLETE;
    /** Damage between request and the end of what the landing is taken from: nothing after it is measured. */
    boolean damaged;
    /** Damage in the motion: whole turns may be lost. */
    boolean turnUncertain;
    /** Which part of a run with breaks it lies in: 0 up to the first break. */
    int part;
    /** The last of a part that a break ends. */
    boolean lastBeforeBreak;
    /** Under way when the run was broken off: it is no shift that was made. */
    boolean brokenOff;
    /** Stretch of certain turns that the start lies in, and the landing. */
    int startStretch;

    int landingStretch;
    double requestS = Double.NaN;
    double startDeg = Double.NaN;
    double landingDeg = Double.NaN;
    double extremeDeg = Double.NaN;
    /** Whether it left start ± b. */
    boolean left;
    /** +1 or −1: the way it moved on the track; 0 where it did not. */
    int motionSign;
    /** Median current in the first 50 ms of the final rest, ampere; NaN without. */
    double endCurrentA = Double.NaN;
    /** Whether the return was told from a new shift by a ratio near its limit. */
    boolean groupingDoubtful;
    /** Whether the supply was cut while it rested at last, so that a return may be missing. */
    boolean cutAtRest;
    /** Whether the capture ended soon after the landing, so that a return may be missing. */
    boolean atCaptureEnd;
    /**
     * How long the capture went on after the landing began, with the supply on, seconds; set where that was not long enough
     * to be sure that no return follows.
     */
    double seenAfterLandingS = Double.NaN;

    void put(Measure measure, double value) {
        measures.put(measure, new Measured.Value(value));
    }

    void notMeasured(Measure measure, String reason) {
        measures.put(measure, new Measured.NotMeasured(reason));
    }

    void notApplicable(Measure measure) {
        measures.put(measure, new Measured.NotApplicable());
    }

    boolean has(Measure measure) {
        return measures.containsKey(measure);
    }
}
