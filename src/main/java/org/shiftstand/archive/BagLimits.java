package org.shiftstand.archive;

/**
 * What is read of a bag at most, so that a hostile one costs neither memory nor disk.
 *
 * @param files files in a bag
 * @param smallOctets bytes of one tag file, signature, name or JSON file
 * @param freeOctets bytes that may unpack before the ratio counts
 * @param ratio unpacked bytes for one packed byte; deflate's own bound is about 1032
 */
public record BagLimits(int files, int smallOctets, long freeOctets, int ratio) {
    /** 10,000 files, 16 MiB, and 200 times beyond the first 16 MiB: captures pack about 5 times, zeros 1000 times. */
    public static BagLimits usual() {
        return new BagLimits(10_000, 16 << 20, 16L << 20, 200);
    }
}
