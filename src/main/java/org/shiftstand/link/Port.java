package org.shiftstand.link;

/** A place where a line to a rig can be opened, more than once: the same port after the cable was out. Owns time while no link does. */
public interface Port {
    /** As messages name it, such as {@code serial:/dev/ttyACM0}. */
    String address();

    /**
     * Opens the line; one at a time, the caller closes it.
     *
     * @throws LinkException where it cannot be had now, with what to do
     */
    Link open();

    /** Lets time pass without a line: waits on a real port, moves the simulated clock on a simulated one. */
    void pause(long micros);
}
