package org.shiftstand.link;

import java.util.Arrays;
import java.util.Optional;

/** State of a rig; numbers as on the wire, meaning in the state table of {@code rig/WIRE.md}. */
public enum RigState {
    IDLE(0, "idle"),
    ARMED(1, "armed"),
    MOVING(2, "moving"),
    CUT(3, "cut"),
    FAULT(4, "fault");

    private final int number;
    private final String word;

    RigState(int number, String word) {
        this.number = number;
        this.word = word;
    }

    public int number() {
        return number;
    }

    public String word() {
        return word;
    }

    /** The state of a number; empty for one that this version does not know. */
    public static Optional<RigState> of(int number) {
        return Arrays.stream(values()).filter(s -> s.number == number).findFirst();
    }
}
