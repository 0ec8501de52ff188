package org.shiftstand.spec;

/** How a clause splits its shifts into groups. */
public enum Per {
    /** By {@code to}. */
    SPROCKET("sprocket"),
    /** By {@code from→to}. */
    PAIR("pair"),
    DIRECTION("direction"),
    CYCLE("cycle"),
    EACH("each");

    private final String word;

    Per(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
