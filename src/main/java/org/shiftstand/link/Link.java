package org.shiftstand.link;

/**
 * A two-way stream of frames to a rig, and the clock of the run.
 *
 * <p>Owns time: the runner waits only in {@link #receive}, so that a simulated link runs as fast as it can and exactly.
 * One thread uses a link; what fills it may be another.
 */
public interface Link extends AutoCloseable {
    /** Where this link goes, for messages, such as {@code serial:/dev/ttyACM0}. */
    String address();

    /** Sends one frame. Never waits for the rig. A link that is lost reports it at the next {@link #receive}. */
    void send(Frame frame);

    /** Waits for the next arrival until {@code untilMicros} on the clock of {@link #now}, then gives {@link Arrival.Nothing}. */
    Arrival receive(long untilMicros);

    /** Microseconds since the link was opened, monotonic: simulated time on a simulated link. */
    long now();

    /** Wall clock in UTC at this moment, microseconds since the epoch; it may step. Fixed start on a simulated link. */
    long utcMicros();

    @Override
    void close();
}
