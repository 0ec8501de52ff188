package org.shiftstand.shift;

/** What the unit did in one shift; the first that matches, in this order. */
public enum Outcome {
    INTERRUPTED("interrupted"),
    NOT_SETTLED("not-settled"),
    REVERSED("reversed"),
    MISSED("missed"),
    STALLED("stalled"),
    SHORT("short"),
    DOUBLE("double"),
    LANDED("landed"),
    /** Damaged evidence does not decide. */
    UNKNOWN("unknown");

    private final String word;

    Outcome(String word) {
        this.word = word;
    }

    /** As in files. */
    public String word() {
        return word;
    }
}
