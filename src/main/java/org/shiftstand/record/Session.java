package org.shiftstand.record;

/**
 * A stretch of a run in which host and rig talked without a break. The first begins with the record; another begins where a
 * run is gone on with after the program, the line or the power was away.
 *
 * @param firstBlock row ({@code seq}) of its first block: one more than there are before it
 * @param atMicros when it begins, on the record's clock
 * @param offsetMicros what was added to the rig's clock to give the record's; 0 in the first session
 * @param utcMicros UTC at its beginning
 * @param cause why there was a break before it; empty for the first
 */
public record Session(long firstBlock, long atMicros, long offsetMicros, long utcMicros, String cause) {}
