package org.shiftstand.sim;

/** What a simulated unit is about. */
enum Phase {
    OFF,
    /** Supply gone while moving. */
    COASTING,
    ASLEEP,
    WAKING,
    DRIVING,
    /** By the rig, sensors just powered. */
    SET_TO_DRIVE,
    /** By the rig. */
    DRIVEN,
    /** The rig's drive is over: its bridge brakes. */
    BRAKING,
    HOLDING,
    /** Sensors still on, or the end of a shift that did not move. */
    RESTING;

    /** Whether the shaft may move: else it is not integrated. */
    boolean turns() {
        return this == DRIVING || this == COASTING || this == DRIVEN || this == BRAKING;
    }

    /** Whether a shift is under way: from its request until its last stop. */
    boolean ofAShift() {
        return this == WAKING || this == DRIVING || this == HOLDING || this == COASTING;
    }

    /** Whether a drive by the rig is under way: until the shaft stands. */
    boolean ofADrive() {
        return this == SET_TO_DRIVE || this == DRIVEN || this == BRAKING;
    }
}
