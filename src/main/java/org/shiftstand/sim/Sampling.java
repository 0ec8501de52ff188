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
        blockNumber = 0;
    }

    long intervalNanos() {
        return intervalNanos;
    }

    /** When the next sample is due. */
    long nextNanos() {
        return nextNanos;
    }

    /** Rig's clock at the first sample of all, µs; 0 before there is one. */
    long firstMicros() {
        return firstNanos == NEVER ? 0 : firstNanos / 1000;
    }

    void take(long nanos) {
        if (taken == 0) {
            blockNanos = nanos;
        }
        unit.sample(nanos, samples, CHANNELS * taken);
        taken++;
        nextNanos = nanos + intervalNanos;
    }

    int milliAmps() {
        return (int) ((long) samples[CHANNELS * taken - 2] * Sensors.CURRENT_MICROAMP_PER_COUNT / 1000);
    }

    int milliVolts() {
        return (int) ((long) samples[CHANNELS * taken - 1] * Sensors.SUPPLY_MICROVOLT_PER_COUNT / 1000);
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
                blockNumber++, blockNanos / 1000, intervalNanos, Arrays.copyOf(samples, CHANNELS * taken));
        taken = 0;
        return block;
    }
}
