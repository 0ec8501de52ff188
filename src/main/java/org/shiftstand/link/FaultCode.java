package org.shiftstand.link;

import java.util.Arrays;
import java.util.Optional;

/** Why a rig refused a command, or went into fault; numbers as on the wire. */
public enum FaultCode {
    /** The host's major version is not spoken. */
    VERSION(1, "another protocol version"),
    /** The command has no place in this state. */
    STATE(2, "not possible in this state"),
    /** The supply is off: {@code arm} first. */
    NOT_ARMED(3, "the supply is off; arm first"),
    /** A field is outside what the rig can do. */
    VALUE(4, "a value that the rig cannot do"),
    /** The payload is too short for its type. */
    MALFORMED(5, "a malformed message"),
    /** Known, but this rig has no hardware for it. */
    UNSUPPORTED(6, "not supported by this rig"),
    /** No {@code configure} since {@code hello}. */
    NOT_CONFIGURED(7, "sampling is not configured"),
    /** No {@code limits} since {@code hello}. */
    NO_LIMITS(8, "no limits were set"),
    OVER_CURRENT(9, "over-current"),
    EMERGENCY_STOP(10, "emergency stop"),
    TEMPERATURE(11, "over-temperature"),
    SUPPLY_WINDOW(12, "supply outside its window"),
    ON_TIME(13, "on-time used up");

    private final int number;
    private final String words;

    FaultCode(int number, String words) {
        this.number = number;
        this.words = words;
    }

    public int number() {
        return number;
    }

    /** For messages, such as {@code the supply is off; arm first}. */
    public String words() {
        return words;
    }

    /** The code of a number; empty for one that this version does not know. */
    public static Optional<FaultCode> of(int number) {
        return Arrays.stream(values()).filter(c -> c.number == number).findFirst();
    }
}
