package org.shiftstand.angle;

import java.util.Arrays;
import java.util.List;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleSource;

/**
 * Collects stretches of motion from one pass, in bounded memory: knots of equal travel, 25 to a stretch, and beside them
 * samples at a regular stride.
 *
 * <p>A knot is the first sample that is about 9 degrees of shaft from the knot before it, whatever the sampling rate or
 * the speed: rests add nothing, so the fit is weighted by angle and not by where the shaft happened to rest. When the
 * store is full every second stretch is dropped and from then on only every second one is kept: the choice depends on
 * the samples alone.
 */
final class Stretches {
    static final int KNOTS = 25;
    private static final int OVERLAP = 13;
    /** Kept. */
    static final int MOST = 2048;

    /** Knots of a stretch one after the other: stretch {@code s} holds elements {@code s * KNOTS} and on. */
    final double[] timeS = new double[MOST * KNOTS];

    final double[] cos = new double[MOST * KNOTS];
    final double[] sin = new double[MOST * KNOTS];
    private int stretches;
    private long completed;
    private int keepEvery = 1;

    private final ThinnedPairs powered = new ThinnedPairs();
    private final ThinnedPairs unpowered = new ThinnedPairs();

    private final Repeats poweredRepeats = new Repeats(false);
    private final Repeats allRepeats = new Repeats(true);

    private final OffsetBlocks blocks = new OffsetBlocks();

    private final double longestStepS;
    private final double[] openTime = new double[KNOTS];
    private final double[] openCos = new double[KNOTS];
    private final double[] openSin = new double[KNOTS];
    private int open;
    private double lastTimeS = Double.NaN;
    private int lastWindow;
    private final NextBreak nextBreak;
    private final Extremes cosRange = new Extremes();
    private final Extremes sinRange = new Extremes();
    private double knotDistanceSquared;

    Stretches(double intervalS, List<SampleSource.Break> breaks) {
        longestStepS = 1.5 * intervalS;
        nextBreak = new NextBreak(breaks);
    }

    void add(SampleBlock block) {
        poweredRepeats.add(block);
        allRepeats.add(block);
        for (int i = 0; i < block.size(); i++) {
            if (!block.powered[i]) {
                unpowered.add(block.hallCos[i], block.hallSin[i]);
                open = 0;
                continue;
            }
            double t = block.timeS[i];
            if (!(t - lastTimeS <= longestStepS) || block.window[i] != lastWindow || t > nextBreak.boundaryS) {
                open = 0;
                nextBreak.passedBy(t);
            }
            lastTimeS = t;
            lastWindow = block.window[i];
            double x = block.hallCos[i];
            double y = block.hallSin[i];
            if (cosRange.add(x) | sinRange.add(y)) {
                widen();
            }
            powered.add(x, y);
            if (open == 0) {
                knot(t, x, y);
            } else {
                double dx = x - openCos[open - 1];
                double dy = y - openSin[open - 1];
                if (dx * dx + dy * dy >= knotDistanceSquared) {
                    knot(t, x, y);
                }
            }
        }
    }

    private void widen() {
        double range = range();
        knotDistanceSquared = 0.08 * 0.08 * range * range; // about 9 degrees of the full circle
    }

    private void knot(double t, double x, double y) {
        openTime[open] = t;
        openCos[open] = x;
        openSin[open++] = y;
        if (open < KNOTS) {
            return;
        }
        if (completed++ % keepEvery == 0) {
            keep();
        }
        int from = KNOTS - OVERLAP;
        for (int i = 0; i < from; i++) {
            blocks.add(openTime[i], openCos[i], openSin[i]);
        }
        System.arraycopy(openTime, from, openTime, 0, OVERLAP);
        System.arraycopy(openCos, from, openCos, 0, OVERLAP);
        System.arraycopy(openSin, from, openSin, 0, OVERLAP);
        open = OVERLAP;
    }

    private void keep() {
        if (stretches == MOST) {
            for (int s = 0; s < MOST / 2; s++) {
                copy(timeS, s);
                copy(cos, s);
                copy(sin, s);
            }
            stretches = MOST / 2;
            keepEvery *= 2;
        }
        System.arraycopy(openTime, 0, timeS, stretches * KNOTS, KNOTS);
        System.arraycopy(openCos, 0, cos, stretches * KNOTS, KNOTS);
        System.arraycopy(openSin, 0, sin, stretches * KNOTS, KNOTS);
        stretches++;
    }

    private static void copy(double[] array, int s) {
        copy(array, 2 * s, s);
    }

    private static void copy(double[] array, int from, int to) {
        System.arraycopy(array, from * KNOTS, array, to * KNOTS, KNOTS);
    }

    /**
     * Drops stretches that span less: before the first motion the noise of a rest is all the range there is, and its knots are
     * no motion. At high rates that is most of a short capture.
     *
     * @param leastSpan of the wider output; 24 knots of 9 degrees span 1.3 radii and more
     */
    void dropStill(double leastSpan) {
        int kept = 0;
        for (int s = 0; s < stretches; s++) {
            if (Math.max(span(cos, s), span(sin, s)) >= leastSpan) {
                copy(timeS, s, kept);
                copy(cos, s, kept);
                copy(sin, s, kept++);
            }
        }
        stretches = kept;
    }

    /** What the wider output spans, a few wild values left out. */
    double range() {
        return Math.max(cosRange.high() - cosRange.low(), sinRange.high() - sinRange.low());
    }

    /** Knots of one output in stretches that span so much or more. */
    double[] moving(double[] output, double leastSpan) {
        double[] found = new double[knots()];
        int n = 0;
        for (int s = 0; s < stretches; s++) {
            if (Math.max(span(cos, s), span(sin, s)) >= leastSpan) {
                System.arraycopy(output, s * KNOTS, found, n, KNOTS);
                n += KNOTS;
            }
        }
        return Arrays.copyOf(found, n);
    }

    private static double span(double[] values, int stretch) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (int i = stretch * KNOTS; i < (stretch + 1) * KNOTS; i++) {
            low = Math.min(low, values[i]);
            high = Math.max(high, values[i]);
        }
        return high - low;
    }

    int stretches() {
        return stretches;
    }

    /** The knots once more, by blocks of time. */
    OffsetBlocks blocks() {
        return blocks;
    }

    /** How often the pair stays as it is, while the sensors are powered or whether they are or not. */
    Repeats repeats(boolean alsoUnpowered) {
        return alsoUnpowered ? allRepeats : poweredRepeats;
    }

    /** Takes a drift of the offsets out of all knots. */
    void level(OffsetDrift drift) {
        drift.leveller().level(timeS, cos, sin, knots());
    }

    /** Kept or not; beyond {@link #MOST} those kept share no more than a knot. */
    long seen() {
        return completed;
    }

    int knots() {
        return stretches * KNOTS;
    }

    /** Samples while the sensors were powered, at a regular stride. */
    ThinnedPairs powered() {
        return powered;
    }

    /** Samples that said that the sensors were off, at a regular stride. */
    ThinnedPairs unpowered() {
        return unpowered;
    }

    /** Middle and half of the range of all powered samples, as {cos, sin, radius}; all 0 without samples. */
    double[] nominal() {
        if (powered.size() == 0) {
            return new double[3];
        }
        return new double[] {
            (cosRange.low() + cosRange.high()) / 2,
            (sinRange.low() + sinRange.high()) / 2,
            Math.max(cosRange.high() - cosRange.low(), sinRange.high() - sinRange.low()) / 2
        };
    }
}
