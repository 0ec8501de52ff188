package org.shiftstand.link;

/** What a host says to a rig; numbers and layouts are in {@code rig/WIRE.md}. */
public sealed interface HostMessage {
    /** 0x01: opens a session; the rig cuts the supply, drops what was queued and answers with its identity. */
    record Hello(int major, int minor) implements HostMessage {}

    /** 0x02: sampling and block size. */
    record Configure(int sampleRateHz, int samplesPerBlock) implements HostMessage {}

    /** 0x03: supply on at so many millivolts; the only way out of {@code cut}. */
    record Arm(int supplyMv) implements HostMessage {}

    /** 0x04: request a shift: direction +1 or −1, or 0 with a target sprocket (0 = none). */
    record ShiftRequest(int direction, int toSprocket) implements HostMessage {}

    /** 0x05: close a button contact for so long (reserved for units driven by buttons). */
    record Button(int contact, int pressMs) implements HostMessage {}

    /** 0x06: change the supply while armed. */
    record SupplySet(int supplyMv) implements HostMessage {}

    /** 0x07: supply off now. */
    record Cut() implements HostMessage {}

    /** 0x08: guards that the rig enforces itself. */
    record Limits(
            int currentMa,
            int currentMs,
            int averageMa,
            int averageMs,
            int supplyMinMv,
            int supplyMaxMv,
            int onTimeS,
            int temperatureDeciC)
            implements HostMessage {}

    /** 0x09: the host's runner lives; each 200 ms. */
    record Heartbeat() implements HostMessage {}

    /** 0x0A: end of run: supply off, sampling off. */
    record Stop() implements HostMessage {}

    /**
     * 0x20, since 1.1: the rig itself turns the motor; only on a rig whose identity says so.
     *
     * @param direction 1 inboard, −1 outboard, 0 stop now (the other fields are then without meaning)
     * @param currentMa the rig lets no more through the motor
     * @param speedDegS of the output shaft; the rig goes no faster
     * @param ms the rig ends by itself after so long, and when the shaft stands still for 100 ms at the current's limit
     */
    record Drive(int direction, int currentMa, int speedDegS, int ms) implements HostMessage {
        /** Ends a drive under way. */
        public static Drive stopNow() {
            return new Drive(0, 0, 0, 0);
        }
    }
}
