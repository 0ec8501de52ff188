package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.shiftstand.capture.Request;

/**
 * One shift measured on the track as decoded: sense, origin and numbers are not known yet. Angles in degrees of the
 * track; NaN where there is none.
 */
final class RawShift {
    static final String BROKEN_OFF = "the run was broken off in the shift";

    private static final Map<Measure, Measured> TAKEN = Map.of();

    private Map<Measure, Measured> measures = new EnumMap<>(Measure.class);
    private List<String> notes = List.of();
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
    /** What the rest that it starts from is damaged by, where nothing tells when it was asked for; null elsewhere. */
    @Nullable
    Evidence damagedRest;

    /** What the motion after the landing is damaged by, where it came so soon that it may be the return; null elsewhere. */
    @Nullable
    Evidence damagedNext;
    /** Whether the capture ended soon after the landing, so that a return may be missing. */
    boolean atCaptureEnd;
    /**
     * How long the capture went on undamaged after the landing began, with the supply on, seconds; set where that was not long
     * enough to be sure that no return follows.
     */
    double seenAfterLandingS = Double.NaN;

    void put(Measure measure, double value) {
        put(measure, new Measured.Value(value));
    }

    void notMeasured(Measure measure, String reason) {
        put(measure, new Measured.NotMeasured(reason));
    }

    void notApplicable(Measure measure) {
        put(measure, new Measured.NotApplicable());
    }

    private void put(Measure measure, Measured measured) {
        if (measures instanceof PackedMeasures) {
            Map<Measure, Measured> changed = new EnumMap<>(measures);
            changed.put(measure, measured);
            measures = PackedMeasures.of(changed);
        } else {
            measures.put(measure, measured);
        }
    }

    /** Not known after all, before it is finished. */
    void forget(Measure measure) {
        measures.remove(measure);
    }

    /** What became of a measure so far; null where nothing did. */
    @Nullable
    Measured get(Measure measure) {
        return measures.get(measure);
    }

    /** Measured: few of its measures change from here on, and many such shifts are kept. */
    void finished() {
        measures = PackedMeasures.of(measures);
    }

    /** All of them, to be kept elsewhere: none is kept here any longer. */
    Map<Measure, Measured> take() {
        Map<Measure, Measured> all = new EnumMap<>(Measure.class);
        all.putAll(measures);
        measures = TAKEN;
        return all;
    }

    void note(String note) {
        List<String> more = new ArrayList<>(notes);
        more.add(note);
        notes = List.copyOf(more);
    }

    List<String> notes() {
        return notes;
    }

    boolean has(Measure measure) {
        return measures.containsKey(measure);
    }
}
