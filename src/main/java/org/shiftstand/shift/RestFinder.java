package org.shiftstand.shift;

/**
 * Finds rests in a growing trace.
 *
 * <p>A rest is the longest stretch within ± b/2 of its median for the dwell, or one that reaches the end of a sensing
 * window at less than {@value #WINDOW_END_DEG_PER_S} deg/s over its last 20 ms. Rests less than b apart are one.
 */
final class RestFinder {
    /** A shaft slower than this at a window's end rests. */
    static final double WINDOW_END_DEG_PER_S = 50;

    private static final double WINDOW_END_S = 0.020;
    /** The first samples of a window are taken as rest: a unit powers its sensors before it moves. */
    private static final double WAKE_S = 0.008;

    /** Hears of rests as they are found. */
    interface Listener {
        /** Whether a rest that begins at {@code first} may continue the one before, being less than b away. */
        boolean sameRest(Rest before, int first);

        /** A new rest is certain; {@code rest.last} grows while it lasts. */
        void onRest(Rest rest);

        /** The shaft left the rest; {@code index} is the first sample outside. */
        void onLeave(int index);
    }

    private final Trace trace;
    private final double bandDeg;
    private final double dwellS;
    private final int wakeSamples;
    private final Listener listener;

    private @org.jspecify.annotations.Nullable Rest rest;
    private boolean resting;
    private double low;
    private double high;
    private int wakingFrom = -1;
    private boolean starting = true;
    /** Latest samples of a motion that lie within b, and so may become a rest. */
    private final SlidingRange run = new SlidingRange();

    /** No look for a rest before this instant; minus infinity where it is free. */
    private double waitS = Double.NEGATIVE_INFINITY;

    private int scanned;
    /** Where the samples begin that the level is taken from: those before lie in an earlier window. */
    private int levelFrom;

    RestFinder(Trace trace, double bandDeg, double dwellS, double intervalS, Listener listener) {
        this.trace = trace;
        this.bandDeg = bandDeg;
        this.dwellS = dwellS;
        this.wakeSamples = (int) Math.max(5, Math.min(1000, Math.round(WAKE_S / intervalS)));
        this.listener = listener;
        this.wakingFrom = 0;
        this.resting = true;
    }

    boolean resting() {
        return resting && wakingFrom < 0;
    }

    double lowDeg() {
        return low;
    }

    double highDeg() {
        return high;
    }

    /** The rest the shaft is in, or was in last. */
    @org.jspecify.annotations.Nullable
    Rest last() {
        return rest;
    }

    /** The trace forgot its first {@code n} samples. */
    void drop(int n) {
        scanned -= n;
        levelFrom = Math.max(0, levelFrom - n);
        run.drop(n);
        wakingFrom = wakingFrom < 0 ? -1 : wakingFrom - n;
    }

    /** The trace left out samples {@code from…to − 1}, inside of the rest that lasts. */
    void elided(int from, int to) {
        scanned -= to - from;
        levelFrom = levelFrom >= to ? levelFrom - (to - from) : Math.min(levelFrom, from);
    }

    /** Tells that samples up to {@code index} − 1 were seen to be inside {@link #lowDeg}…{@link #highDeg}. */
    void skippedTo(int index) {
        scanned = index;
    }

    /** The samples that follow are of a new sensing window. */
    void windowStarts() {
        if (resting && wakingFrom < 0) {
            wakingFrom = trace.size;
        }
    }

    /** The sensing window ends with the last sample of the trace. */
    boolean windowEnds() {
        if (wakingFrom >= 0 && trace.size > wakingFrom) {
            wake(trace.size);
        }
        if (resting || trace.size == 0) {
            return true;
        }
        if (Math.abs(endSpeed()) >= WINDOW_END_DEG_PER_S) {
            return false;
        }
        int first = run.first();
        double median = trace.median(first, trace.size);
        for (int i = trace.size - 1; i >= first; i--) {
            if (Math.abs(trace.deg[i] - median) > bandDeg / 2) {
                first = i + 1;
                if (first < trace.size) {
                    median = trace.median(first, trace.size);
                    i = trace.size;
                }
            }
        }
        if (first < trace.size) {
            found(first, trace.size - 1, median);
        }
        return true;
    }

    /** Looks at what was appended since the last call. */
    void scan() {
        while (scanned < trace.size) {
            if (wakingFrom >= 0) {
                int to = wakesUntil();
                if (to > trace.size) {
                    return;
                }
                wake(to);
            } else if (resting) {
                scanned = stay(scanned);
            } else {
                scanned += move(scanned) ? 1 : 0;
            }
        }
    }

    /** First sample that is no longer taken as rest: a motion may have begun in what is missing before it, or the unit be awake. */
    private int wakesUntil() {
        int end = wakingFrom + wakeSamples;
        int damaged = trace.firstDamaged(wakingFrom, end - 1);
        return damaged < 0 ? end : damaged;
    }

    private void wake(int to) {
        int from = wakingFrom;
        levelFrom = from;
        wakingFrom = -1;
        if (starting) {
            starting = false;
            if (range(from + 1, Math.min(to, from + 1 + Math.max(3, wakeSamples / 2))) > bandDeg / 20) {
                resting = false;
                startRun(from);
                scanned = from + 1;
                return;
            }
            Rest first = new Rest(from, to - 1, 0);
            rest = first;
            settleOn(trace.median(from, to));
            listener.onRest(first);
        } else {
            current().last = to - 1;
            settleOn(trace.median(from, to));
        }
        scanned = to;
    }

    private Rest current() {
        return java.util.Objects.requireNonNull(rest);
    }

    private void settleOn(double median) {
        current().levelDeg = median;
        low = median - bandDeg / 2;
        high = median + bandDeg / 2;
    }

    private int stay(int from) {
        double[] deg = trace.deg;
        int i = from;
        int end = trace.size;
        while (i < end && deg[i] >= low && deg[i] <= high) {
            i++;
        }
        Rest now = current();
        now.last = i - 1;
        if (i == end) {
            return i;
        }
        // the first estimate still held the approach: look again before calling it a departure
        int first = Math.max(0, Math.max(now.first, levelFrom));
        boolean longEnough = trace.timeS[now.last] - trace.timeS[first] >= dwellS;
        // a window's few samples before a motion already hold its beginning: all of them count then
        double median = trace.median(longEnough ? (first + now.last + 1) / 2 : first, now.last + 1);
        double asItWoke = now.levelDeg;
        settleOn(median);
        if (!longEnough) {
            now.levelDeg = asItWoke; // not drawn along by a slow motion: it tells whether the next rest is another
        }
        if (deg[i] >= low && deg[i] <= high) {
            return i;
        }
        resting = false;
        startRun(i);
        listener.onLeave(i);
        return i + 1;
    }

    private void startRun(int index) {
        waitS = Double.NEGATIVE_INFINITY;
        run.start(index, trace.deg[index]);
    }

    /** Takes sample {@code i}; false where a rest was found that ended just before it, so that it is to be looked at again. */
    private boolean move(int i) {
        if (trace.gap[i] != Trace.NONE || i <= run.first()) {
            if (i > run.first() && foundLate(i - 1)) {
                return false;
            }
            startRun(i);
            return true;
        }
        if (!run.takes(trace.deg[i], bandDeg)) {
            if (foundLate(i - 1)) {
                return false;
            }
            run.shorten(trace.deg, i, bandDeg);
            return true;
        }
        if (trace.timeS[i] >= waitS && longEnough(i)) {
            foundUpTo(i);
        }
        return true;
    }

    /** Whether the run up to sample {@code i}, not looked at for a while, is a rest after all. */
    private boolean foundLate(int i) {
        return waitS > Double.NEGATIVE_INFINITY && longEnough(i) && foundUpTo(i);
    }

    /** No more samples follow: a rest that has just become long enough counts. */
    void ends() {
        scan();
        if (!resting && trace.size > 0 && run.first() < trace.size) {
            foundLate(trace.size - 1);
        }
    }

    private boolean longEnough(int i) {
        return trace.timeS[i] - trace.timeS[run.first()] >= dwellS;
    }

    /** Whether the run up to sample {@code i} is a rest; if not, its oldest samples that hinder that are dropped. */
    private boolean foundUpTo(int i) {
        double median = trace.median(run.first(), i + 1);
        if (run.max() - median <= bandDeg / 2 && median - run.min() <= bandDeg / 2) {
            found(run.first(), i, median);
            return true;
        }
        skipOutside(i, median);
        // an approach fails many times in a row: once in a while is enough, and once more when it leaves
        waitS = trace.timeS[i] + dwellS / 12;
        return false;
    }

    private void skipOutside(int i, double median) {
        int first = i;
        while (first > run.first() && Math.abs(trace.deg[first - 1] - median) <= bandDeg / 2) {
            first--;
        }
        double min = trace.deg[first];
        double max = min;
        for (int k = first + 1; k <= i; k++) {
            double x = trace.deg[k];
            min = x < min ? x : min;
            max = x > max ? x : max;
        }
        run.set(first, min, max);
    }

    private void found(int first, int last, double median) {
        resting = true;
        starting = false;
        levelFrom = first;
        Rest before = rest;
        if (before != null && Math.abs(median - before.levelDeg) < bandDeg && listener.sameRest(before, first)) {
            before.last = last;
            settleOn(median);
        } else {
            Rest next = new Rest(first, last, median);
            rest = next;
            settleOn(median);
            listener.onRest(next);
        }
    }

    private double endSpeed() {
        int from = trace.size - 1;
        while (from > run.first() && trace.timeS[trace.size - 1] - trace.timeS[from - 1] <= WINDOW_END_S * (1 + 1e-9)) {
            from--;
        }
        return slope(from, trace.size);
    }

    private double range(int from, int to) {
        double min = trace.deg[from];
        double max = min;
        for (int i = from; i < to; i++) {
            min = Math.min(min, trace.deg[i]);
            max = Math.max(max, trace.deg[i]);
        }
        return max - min;
    }

    /** Least-squares slope over samples {@code from…to − 1}, deg/s; not finite where there is no baseline. */
    private double slope(int from, int to) {
        int n = to - from;
        double meanT = 0;
        double meanX = 0;
        for (int i = from; i < to; i++) {
            meanT += trace.timeS[i] - trace.timeS[from];
            meanX += trace.deg[i] - trace.deg[from];
        }
        meanT /= n;
        meanX /= n;
        double tt = 0;
        double tx = 0;
        for (int i = from; i < to; i++) {
            double t = trace.timeS[i] - trace.timeS[from] - meanT;
            tt += t * t;
            tx += t * (trace.deg[i] - trace.deg[from] - meanX);
        }
        return tt > 0 ? tx / tt : Double.POSITIVE_INFINITY;
    }
}
