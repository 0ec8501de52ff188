package org.shiftstand.archive;

/**
 * How much a bag may ask for before reading stops.
 *
 * @param entries most files
 * @param tagOctets most bytes of a file that is kept in memory
 * @param freeOctets bytes that may expand from any number of compressed ones; also what tag files, signatures and names may
 *     take together
 * @param ratio most bytes that one compressed byte may expand to, beyond {@code freeOctets}
 */
public record BagLimits(int entries, int tagOctets, long freeOctets, int ratio) {
    /** Files that a new bag leaves room for: as many signatures as it may have, each with its name. */
    static final int ADDED_LATER = 2 * 99;

    /** 10,000 files, tag files of 16 MiB, 200 to one beyond 64 MiB; common practice, no published source. */
    public static final BagLimits DEFAULT = new BagLimits(10_000, 16 << 20, 64L << 20, 200);
}
