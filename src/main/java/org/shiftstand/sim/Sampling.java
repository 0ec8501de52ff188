package org.shiftstand.sim;

import java.util.Arrays;
import org.shiftstand.link.RigMessage;

/** The rig's sampler: takes the unit's four channels at a fixed interval into one block at a time. */
final class Sampling {
    private static final int CHANNELS = 4;
    private static final long NEVER = Long.MAX_VALUE;

    private final SimulatedUnit unit;
    private long intervalNanos;
    private short[] samples = new short[0];
    private int taken; // in the block under way
    private int losing; // so many of the next are taken, and lost
    private int current; // counts of the last sample
    private int supply;
    private long bootNanos;
    private long blockNumber;
    private long blockNanos; // of its first sample
    private long nextNanos = NEVER;
    private long firstNanos = NEVER; // of the run

    Sampling(SimulatedUnit unit) {
        this.unit = unit;
    }

    void configure(int rateHz, int perBlock) {
        intervalNanos = Math.round(1e9 / rateHz);
        samples = new short[CHANNELS * perBlock];
        blockNumber = 0;
    }

    boolean configured() {
        return samples.length > 0;
    }

    /** Forgets the configuration. */
    void forget() {
        samples = new short[0];
    }

    /** Begins with a sample at this instant; without effect where it runs. */
    void start(long nanos) {
        if (nextNanos == NEVER) {
            nextNanos = nanos;
            taken = 0;
            firstNanos = Math.min(firstNanos, nanos);
        }
    }

    /** Ends; what was taken and not sent is dropped. A new {@link #start} counts blocks from 0. */
    void stop() {
        nextNanos = NEVER;
        taken = 0;
        losing = 0;
        blockNumber = 0;
    }

    long intervalNanos() {
        return intervalNanos;
    }

    /** When the next sample is due. */
    long nextNanos() {
        return nextNanos;
    }

    /** The first sample of all, µs since the simulation began; 0 before there is one. */
    long firstMicros() {
        return firstNanos == NEVER ? 0 : firstNanos / 1000;
    }

    void take(long nanos) {
        if (taken == 0) {
            blockNanos = nanos;
        }
        int at = CHANNELS * taken;
        unit.sample(nanos, samples, at);
        current = samples[at + 2];
        supply = samples[at + 3];
        if (losing > 0) {
            losing--;
        } else {
            taken++;
        }
        nextNanos = nanos + intervalNanos;
    }

    /** Loses the next samples, between two blocks; guards still see them. Returns how many. */
    int lose(long nanos) {
        losing = (int) Math.max(1, nanos / intervalNanos);
        return losing;
    }

    /** The rig's clock starts again here. */
    void boot(long nanos) {
        bootNanos = nanos;
    }

    int milliAmps() {
        return (int) ((long) current * Sensors.CURRENT_MICROAMP_PER_COUNT / 1000);
    }

    int milliVolts() {
        return (int) ((long) supply * Sensors.SUPPLY_MICROVOLT_PER_COUNT / 1000);
    }

    boolean full() {
        return CHANNELS * taken == samples.length;
    }

    /** Whether the block under way holds samples. */
    boolean begun() {
        return taken > 0;
    }

    /** The block under way; the next sample opens another. */
    RigMessage.Samples block() {
        RigMessage.Samples block = new RigMessage.Samples(
                blockNumber++,
                (blockNanos - bootNanos) / 1000,
                intervalNanos,
                Arrays.copyOf(samples, CHANNELS * taken));
        taken = 0;
        return block;
    }
}
