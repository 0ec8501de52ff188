package org.shiftstand.learn;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.OptionalInt;
import org.shiftstand.judge.Measurement;

/**
 * A measured capture or record to learn from.
 *
 * @param name of the file, for readers
 * @param unit id of the unit
 * @param identity further facts of the run in reading order, such as firmware
 * @param measured numbered from its own outermost sprocket, or by a profile; all inputs alike
 * @param firstSprocket number of its outermost sprocket, where the user says it
 */
public record LearningInput(
        String name, String unit, Map<String, String> identity, Measurement measured, OptionalInt firstSprocket) {
    public LearningInput {
        identity = Collections.unmodifiableMap(new LinkedHashMap<>(identity));
    }
}
