package org.shiftstand.learn;

import java.util.Map;

/**
 * One capture or record that was learned from.
 *
 * @param name of the file
 * @param unit id, or {@code unit} where nothing tells
 * @param identity further facts, such as firmware; may be empty
 * @param shifts found
 * @param cycles of the sweep
 * @param learned shifts learned from
 * @param heldBack shifts kept for proving: every third cycle
 * @param leftOut shifts that neither counts, by reason
 * @param firstSprocket number of its outermost sprocket
 * @param lastSprocket number of its innermost
 * @param numbering how the numbers were found, a sentence
 * @param sense forward or reversed, and from what
 */
public record LearnedSource(
        String name,
        String sha256,
        String unit,
        Map<String, String> identity,
        int shifts,
        int cycles,
        int learned,
        int heldBack,
        Map<String, Integer> leftOut,
        int firstSprocket,
        int lastSprocket,
        String numbering,
        String sense) {
    public LearnedSource {
        identity = java.util.Collections.unmodifiableMap(new java.util.LinkedHashMap<>(identity));
        leftOut = java.util.Collections.unmodifiableMap(new java.util.LinkedHashMap<>(leftOut));
    }

    /** Stands for the unit where nothing tells which it is. */
    public static final String UNNAMED = "unit";
}
