package org.shiftstand.report;

import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.Clause;

/**
 * Where people of the trade look first when a measure is out of its bound. Common practice, no published source, and said so
 * wherever it is shown: which part is at fault follows from no measurement of this program.
 */
final class Practice {
    private static final String OUTCOME =
            "Read the notes of the listed shifts and look at the current in the drawing: current"
                    + " without motion points to something that jams, motion without landing to a lost position. Feel for binding by"
                    + " hand only with the supply off.";
    private static final String EVIDENCE =
            "Look at sensor plug, cable and capture first: the samples, not the motion, are" + " what is bad here.";

    private Practice() {}

    /** What to look at, a sentence or two. */
    static String of(Clause clause) {
        if (clause.outcome().isPresent()) {
            return OUTCOME;
        }
        return clause.measure()
                .map(measure -> clause.statistic().kind().spread() ? spread(measure) : value(measure))
                .orElse(EVIDENCE);
    }

    /**
     * What to look at where the capture does not show shifts whole.
     *
     * @param where such as {@code in 111 of 147 shifts}
     */
    static String of(Evidence evidence, String where) {
        return switch (evidence) {
            case COMPLETE -> "";
            case GAP ->
                "Samples are missing " + where
                        + ": look at cable, line and storage of the logger, and what else its computer"
                        + " did at that time; then capture again.";
            case SENSOR_FAULT ->
                "The sensor's values cannot be right " + where
                        + ": look at its plug, cable, supply and magnet; then capture" + " again.";
            case PARTIAL ->
                "The capture does not hold the whole of the shift " + where
                        + ": start it before the first request, and stop" + " it when the last shift has come to rest.";
            case CLOCK_STOPPED ->
                "The clock stood still " + where
                        + ": let the logger stamp its samples by a clock that runs on while nothing"
                        + " is logged; then capture again.";
        };
    }

    private static String spread(Measure measure) {
        return "Check that unit, magnet and sensor sit firmly: play on the rig looks like spread of the unit. Then look in"
                + " \u201cOver the cycles\u201d whether " + Words.spaced(measure.key())
                + " scatters from shift to shift, drifts, or jumps once.";
    }

    private static String value(Measure measure) {
        return switch (measure) {
            case LANDING, LANDING_ERROR, START, PLATEAU, EXTREME ->
                "One sprocket off in both directions points to its taught position; all sprockets off by as much, to the"
                        + " origin; one direction off from the other, to play (reversal B under \u201cPositions\u201d).";
            case OVERTRAVEL ->
                "Every shift of a pair off points to the overtravel table in the unit: compare it with the profile. Only some"
                        + " off points to a shaft that stopped early: look at current and supply in the drawing.";
            case HOLD, REST_HOLD -> "The firmware times the hold: compare its version and its hold with the profile.";
            case RINGING, RETURN_RINGING ->
                "Check that the unit is fastened and the supply is what it should be; then the settings of the control loop.";
            case REQUEST, MOTION_START, TRAVEL_TIME, SETTLED, SETTLE_TIME ->
                "Look at the current in the drawing: slow with high current points to friction, slow without it to supply or"
                        + " motor. Measure the supply at the unit, under load.";
            case CLEARANCE ->
                "Do not run the unit on before this is understood: it may press on its mechanical limit. Check the limits that"
                        + " were used (title block), then the taught positions.";
            case CREEP ->
                "The shaft moved between shifts: check gearbox and fastening, and compare with the wake-up error, which moves no"
                        + " shaft.";
            case WAKE_UP_ERROR ->
                "Check magnet and sensor, and how long the unit waits between sensor power and first reading.";
            case PEAK_CURRENT, CHARGE, ENERGY ->
                "With longer travel times it points to friction, without them to inrush or supply. Feel for binding by hand only"
                        + " with the supply off.";
        };
    }
}
