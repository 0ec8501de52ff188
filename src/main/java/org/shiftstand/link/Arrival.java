package org.shiftstand.link;

/** What a link gives next. */
public sealed interface Arrival {
    /** A frame whose check sum held. */
    record Received(Frame frame) implements Arrival {}

    /**
     * Bytes that were no valid frame; counted, never samples.
     *
     * @param bytes between the two 0x00 around them, before the stuffing is taken off
     */
    record Damaged(Kind kind, int bytes) implements Arrival {
        /** What is wrong with them. */
        public enum Kind {
            /** Fewer bytes than the smallest frame has: its beginning or end is missing. */
            TOO_SHORT,
            /** More than the largest frame has: noise, or frames whose ends are missing. */
            TOO_LONG,
            STUFFING,
            CHECK_SUM
        }
    }

    /**
     * So many arrivals were dropped here, on this side of the line, since the run took them too slowly. Sample blocks go
     * first: their numbers tell which samples are missing.
     */
    record Dropped(int arrivals) implements Arrival {}

    /** The line is gone; nothing more will come. */
    record Lost(String cause) implements Arrival {}

    /** Nothing until the time asked for. */
    record Nothing() implements Arrival {}
}
