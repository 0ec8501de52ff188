package org.shiftstand.link;

/** What a link gives next. */
public sealed interface Arrival {
    /** A frame whose check sum held. */
    record Received(Frame frame) implements Arrival {}

    /** Bytes that were no valid frame; counted, never samples. */
    record Damaged(String reason, int bytes) implements Arrival {}

    /** The line is gone; nothing more will come. */
    record Lost(String cause) implements Arrival {}

    /** Nothing until the time asked for. */
    record Nothing() implements Arrival {}
}
