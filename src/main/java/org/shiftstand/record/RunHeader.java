package org.shiftstand.record;

import java.util.Map;

/**
 * What is known before the first sample.
 *
 * @param unit id, {@code [A-Za-z0-9._-]{1,64}}
 * @param identity further facts in reading order: unit firmware, rig, rig firmware, operator, station, tool version …
 * @param texts exact texts by role: {@code procedure}, {@code spec}, {@code profile}, {@code rig}; absent where none
 * @param textNames the file name each text came from, by role
 * @param sampleIntervalNanos as configured
 * @param currentAPerCount scale of the current channel
 * @param supplyVPerCount scale of the supply channel
 * @param startUtcMicros UTC at the start
 * @param simulated true when a simulated rig made the run
 */
public record RunHeader(
        String unit,
        Map<String, String> identity,
        Map<String, String> texts,
        Map<String, String> textNames,
        long sampleIntervalNanos,
        double currentAPerCount,
        double supplyVPerCount,
        long startUtcMicros,
        boolean simulated) {}
