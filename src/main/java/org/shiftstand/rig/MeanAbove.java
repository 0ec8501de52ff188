package org.shiftstand.rig;

/** Tells when the mean over a time that ends now is above a limit. Sums counts, so that nothing is lost to rounding. */
final class MeanAbove {
    private final double limit;
    private final short[] window;
    private int next;
    private int filled;
    private long sum;

    /**
     * @param limit counts; NaN or not above 0: never
     * @param samples in the time; at least 1
     */
    MeanAbove(double limit, int samples) {
        this.limit = limit > 0 ? limit : Double.NaN;
        this.window = new short[Math.max(1, samples)];
    }

    boolean sample(short counts) {
        sum += counts - window[next];
        window[next] = counts;
        next = next + 1 == window.length ? 0 : next + 1;
        filled = Math.min(window.length, filled + 1);
        return filled == window.length && sum > limit * filled;
    }
}
