package org.shiftstand.record;

/**
 * Takes a run as it happens. Append-only; one commit a block; used by one thread.
 *
 * <p>Methods throw {@link java.io.UncheckedIOException} when the file cannot be written.
 */
public interface RunWriter extends AutoCloseable {
    /**
     * Begins another session: what follows comes after a break. All times given to a writer are on the record's clock: the
     * rig's, plus the offset of the session.
     *
     * @param atMicros when it begins, on the record's clock, after everything that was sampled before
     * @param offsetMicros what is added to the rig's clock from here on
     * @param utcMicros UTC now
     * @param cause why there was a break, for readers
     */
    void session(long atMicros, long offsetMicros, long utcMicros, String cause);

    /**
     * A block of samples as it came.
     *
     * @param samples hall sine, hall cosine, current, supply, sample by sample; length count × 4
     */
    void block(long blockNumber, long firstMicros, long intervalNanos, short[] samples);

    void event(RunEvent event);

    /** Samples that are missing, with what is known of the cause. */
    void gap(long fromMicros, long toMicros, long samples, String cause);

    /** The record's clock and UTC at one instant. */
    void anchor(long rigMicros, long utcMicros);

    /** The place in the laid-out script: index of the action that is being done. */
    void place(int action, long atMicros);

    /** Counters of the link: frames, damaged frames, repeated frames … by name. */
    void counter(String name, long value);

    /** Ends the run: why it ended, empty when the script was done. The file is complete after this. */
    void finish(String end);

    /** Closes without finishing where {@link #finish} was not called. */
    @Override
    void close();
}
