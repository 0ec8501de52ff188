package org.shiftstand.planning.cassette;

/** What becomes of the overtravel table; where there was none there is none after. */
public enum OvertravelRule {
    /** The same angles, at the same places across the cassette. */
    KEPT("kept"),
    /** Those angles times new mean pitch over present mean pitch. */
    SCALED("scaled");

    private final String word;

    OvertravelRule(String word) {
        this.word = word;
    }

    /** As options write it. */
    public String word() {
        return word;
    }
}
