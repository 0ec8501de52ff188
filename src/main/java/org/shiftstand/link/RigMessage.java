package org.shiftstand.link;

/** What a rig says to its host; numbers and layouts are in {@code rig/WIRE.md}. */
public sealed interface RigMessage {
    /**
     * 0x81: who the rig and the unit are.
     *
     * @param drive 0 requests (the unit moves its own motor), 1 direct (the rig commands the motor)
     * @param hallCounts counts of the converter's full range, such as 4096
     * @param currentMicroampPerCount scale of the current channel
     * @param supplyMicrovoltPerCount scale of the supply channel
     */
    record Identity(
            int major,
            int minor,
            String rigName,
            String rigFirmware,
            String unitFirmware,
            int drive,
            int hallCounts,
            int currentMicroampPerCount,
            int supplyMicrovoltPerCount,
            int maxSampleRateHz,
            int maxSupplyMv)
            implements RigMessage {}

    /**
     * 0x82: a block of samples. Channels in this order: hall sine, hall cosine, current, supply; int16, sample by sample.
     *
     * @param blockNumber counted by the rig from 0 at arm; a missing number is a lost block
     * @param firstMicros rig's clock at the first sample
     * @param intervalNanos between samples
     * @param samples length count × 4
     */
    @SuppressWarnings("ArrayRecordComponent") // a carrier on its way into the record; never compared
    record Samples(long blockNumber, long firstMicros, long intervalNanos, short[] samples) implements RigMessage {
        public int count() {
            return samples.length / 4;
        }
    }

    /** 0x83: something happened, at the rig's clock. */
    record Event(Kind kind, long atMicros, int value, int sequence) implements RigMessage {
        /** Numbers on the wire are fixed; new ones are appended. */
        public enum Kind {
            /** 1: sensors powered. */
            HALL_ON(1),
            /** 2: sensors off. */
            HALL_OFF(2),
            /** 3: a shift was passed to the unit; value is the direction, sequence that of the request's frame. */
            REQUEST_ECHO(3),
            /** 4: supply on; value in millivolts. */
            SUPPLY_ON(4),
            /** 5: supply off; value is the cause (0 command, 1 watchdog, 2 over-current, 3 emergency stop, 4 temperature, 5 supply window, 6 on-time). */
            SUPPLY_OFF(5),
            OVER_CURRENT(6),
            EMERGENCY_STOP(7),
            WATCHDOG(8),
            TEMPERATURE(9),
            OVERRUN(10),
            /** 24, since 1.1: a drive ended; value 0 time, 1 stalled at the current's limit, 2 by command, 3 supply lost. */
            DRIVE_OVER(24);

            private final int number;

            Kind(int number) {
                this.number = number;
            }

            public int number() {
                return number;
            }
        }
    }

    /** 0x84: a command was accepted; sequence is that of the command's frame. */
    record Ack(int sequence) implements RigMessage {}

    /** 0x85: a command was refused, or (sequence 0xFFFF) a fault arose; codes are in the state table. */
    record Fault(int sequence, int code, int state) implements RigMessage {}
}
