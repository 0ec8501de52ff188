package org.shiftstand.learn;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import org.shiftstand.shift.Measure;

/**
 * What a user decides about learning.
 *
 * @param name of the kind of unit, for profile, spec and table; an identifier
 * @param coverage share of a good unit's shifts that a draft bound shall hold, 0…1
 * @param confidence with which it does, and of every interval, 0…1
 * @param margins added outside each tolerance interval, in the measure's base unit; own choice, no published source
 * @param unseenRate the largest rate that may have gone unseen once a row of the table is called settled, 0…1
 * @param stoppingBiasDeg how far short of a target the control loop stops, where it is known; empty estimates it
 */
public record LearnOptions(
        String name,
        double coverage,
        double confidence,
        Map<Measure, Double> margins,
        double unseenRate,
        java.util.OptionalDouble stoppingBiasDeg) {
    public LearnOptions {
        if (!(coverage > 0 && coverage < 1)
                || !(confidence > 0 && confidence < 1)
                || !(unseenRate > 0 && unseenRate < 1)) {
            throw new IllegalArgumentException("coverage, confidence and rate between 0 and 1: coverage=" + coverage
                    + ", confidence=" + confidence + ", unseenRate=" + unseenRate);
        }
        margins = Collections.unmodifiableMap(new EnumMap<>(margins));
    }

    /** Coverage 99.9 %, confidence 95 %, rows settled at 10 %, margins that a changed set-up of the same drive stays inside. */
    public static LearnOptions of(String name) {
        Map<Measure, Double> margins = new EnumMap<>(Measure.class);
        margins.put(Measure.LANDING_ERROR, 10.0);
        margins.put(Measure.OVERTRAVEL, 20.0);
        margins.put(Measure.RINGING, 10.0);
        margins.put(Measure.RETURN_RINGING, 10.0);
        margins.put(Measure.HOLD, 0.040);
        margins.put(Measure.TRAVEL_TIME, 0.060);
        margins.put(Measure.SETTLE_TIME, 0.100);
        margins.put(Measure.CREEP, 15.0);
        margins.put(Measure.WAKE_UP_ERROR, 5.0);
        margins.put(Measure.PEAK_CURRENT, 1.0);
        return new LearnOptions(name, 0.999, 0.95, margins, 0.10, java.util.OptionalDouble.empty());
    }

    /** The share of significance that is left: 1 − confidence. */
    public double alpha() {
        return 1 - confidence;
    }
}
