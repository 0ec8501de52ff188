package org.shiftstand.planning.cassette;

/** Whether something fits. */
public enum Room {
    ROOM("room"),
    NO_ROOM("no-room"),
    /** Something that bears on it is not known, and what is known would fit. */
    NOT_DECIDED("not-decided");

    private final String word;

    Room(String word) {
        this.word = word;
    }

    /** As in JSON. */
    public String word() {
        return word;
    }
}
