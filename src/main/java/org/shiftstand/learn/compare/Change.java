package org.shiftstand.learn.compare;

/** What a comparison says of a group, or of everything. */
public enum Change {
    /** Shown to lie inside the margin. */
    EQUIVALENT("equivalent"),
    /** Shown to be there, and not shown to lie inside the margin. */
    DIFFERENT("different"),
    /** Neither is shown. */
    NOT_DECIDED("not decided"),
    /** Told, not judged: nobody said how much would be too much. */
    NO_MARGIN("no margin");

    private final String word;

    Change(String word) {
        this.word = word;
    }

    /** For sentences; files write it with a hyphen. */
    public String word() {
        return word;
    }

    /** As files write it. */
    public String key() {
        return word.replace(' ', '-');
    }
}
