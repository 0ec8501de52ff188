package org.shiftstand.planning.cassette;

/** How new sprockets are laid over the present travel. */
public enum Spacing {
    /**
     * The shaft angle is taken as a function of the place across the cassette, through the present positions: what is uneven
     * about them (linkage, spacers) is carried over. The present count gives back the present positions.
     */
    MEASURED("measured"),
    /** Equal angles from sprocket to sprocket. */
    EVEN("even");

    private final String word;

    Spacing(String word) {
        this.word = word;
    }

    /** As options write it. */
    public String word() {
        return word;
    }
}
