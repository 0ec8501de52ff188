package org.shiftstand.angle;

import java.util.Arrays;
import java.util.List;
import org.shiftstand.capture.SampleSource;

/**
 * Unwraps angles and says what lies between neighbours: nothing, a gap, a new sensing window, a stopped clock, an
 * unknown turn. Angles are electrical ones here. Keeps only what a later sample needs, so that a copy of it can go on from any place.
 */
final class Unwrapper {
    /** Speed below which a shaft is at rest, degrees of the shaft a second, and the time over which it is taken. */
    private static final double REST_SPEED = 50;

    private static final double REST_TIME_S = 0.02;
    /** Fewer missing rows than this are a loss, not a sensing window: no unit wakes its sensors so soon again. */
    private static final double SHORTEST_WINDOW_GAP_S = 0.02;
    /** Longest loss over which the speeds on both sides still tell the turn. */
    private static final double LONGEST_BRIDGE_S = 0.25;
    /** An angle this near to the expected one, degrees, is on its turn; the next turn would be 270 degrees off. */
    private static final double NEAR = 90;

    /** Two steps up to this in a row, degrees, are not ambiguous: they differ by 120 at most, the other turn by 240. */
    private static final double PLAIN_STEP = 60;

    /** Samples on each side of a loss over which its speed is taken. */
    private static final int SIDE = 4;

    private final double longestStepS;
    private final double restSpeed;
    private final boolean hasWindow;
    private final boolean anyUnpowered;
    private final List<SampleSource.Gap> knownGaps;
    private final NextBreak nextBreak;

    private int nextGap;
    /** A break came after the last good sample. */
    private boolean broken;

    private boolean started;
    private boolean anyGood;
    private double lastTimeS;
    private int lastWindow;
    private byte lastState;
    private double goodTimeS;
    private double goodWrapped;
    private double goodAngle;
    private double turnsDeg;
    private double lastStep;

    /** The latest good samples of this stretch, a ring. */
    private final double[] ringTime;

    private final double[] ringAngle;
    private int ringCount;
    private int ringNext;

    Unwrapper(SampleSource source, boolean anyUnpowered, double turnsPerCycle) {
        this(
                1.5 * source.intervalS(),
                REST_SPEED / turnsPerCycle,
                source.channels().window(),
                anyUnpowered,
                source.gaps(),
                new NextBreak(source.breaks()),
                Math.max(SIDE + 1, (int) Math.min(256, Math.ceil(REST_TIME_S / source.intervalS()) + 1)));
    }

    private Unwrapper(
            double longestStepS,
            double restSpeed,
            boolean hasWindow,
            boolean anyUnpowered,
            List<SampleSource.Gap> knownGaps,
            NextBreak nextBreak,
            int ring) {
        this.longestStepS = longestStepS;
        this.restSpeed = restSpeed;
        this.hasWindow = hasWindow;
        this.anyUnpowered = anyUnpowered;
        this.knownGaps = knownGaps;
        this.nextBreak = nextBreak;
        ringTime = new double[ring];
        ringAngle = new double[ring];
    }

    Unwrapper copy() {
        var copy = new Unwrapper(
                longestStepS, restSpeed, hasWindow, anyUnpowered, knownGaps, nextBreak.copy(), ringTime.length);
        copy.broken = broken;
        copy.nextGap = nextGap;
        copy.started = started;
        copy.anyGood = anyGood;
        copy.lastTimeS = lastTimeS;
        copy.lastWindow = lastWindow;
        copy.lastState = lastState;
        copy.goodTimeS = goodTimeS;
        copy.goodWrapped = goodWrapped;
        copy.goodAngle = goodAngle;
        copy.turnsDeg = turnsDeg;
        copy.lastStep = lastStep;
        System.arraycopy(ringTime, 0, copy.ringTime, 0, ringTime.length);
        System.arraycopy(ringAngle, 0, copy.ringAngle, 0, ringAngle.length);
        copy.ringCount = ringCount;
        copy.ringNext = ringNext;
        return copy;
    }

    /**
     * Unwraps in place.
     *
     * @param n samples filled
     * @param last whether no more follow
     * @return how many were done: fewer than {@code n} where a loss needs the samples behind it
     */
    int unwrap(AngleBlock block, int[] window, int n, boolean last) {
        int i = 0;
        while (i < n) {
            int clear = beforeBreak(block, i, n);
            i = plain(block, window, i, clear);
            i = blind(block, window, i, Math.min(clear, last ? n : n - SIDE));
            if (i == n) {
                break;
            }
            double t = block.timeS[i];
            byte state = block.state[i];
            if (started
                    && state == AngleBlock.GOOD
                    && lastState == AngleBlock.GOOD
                    && t - lastTimeS <= longestStepS
                    && window[i] == lastWindow
                    && !(t > nextBreak.boundaryS)) {
                block.edge[i] = step(block, i, t);
            } else {
                if (i + SIDE >= n && !last && i > 0) {
                    return i;
                }
                special(block, window, i, n, t, state);
            }
            lastTimeS = t;
            lastWindow = window[i];
            lastState = state;
            i++;
        }
        return n;
    }

    /** First of the samples {@code from…n − 1} that is behind the next break; {@code n} where none is. */
    private int beforeBreak(AngleBlock block, int from, int n) {
        if (!(block.timeS[n - 1] > nextBreak.boundaryS)) {
            return n;
        }
        int low = from;
        int high = n - 1;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (block.timeS[middle] > nextBreak.boundaryS) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        return low;
    }

    /**
     * Does the good neighbours from sample {@code from} on whose steps are too small to be ambiguous, nearly all there
     * are, as {@link #step} would; returns the first that it did not do.
     */
    private int plain(AngleBlock block, int[] window, int from, int n) {
        if (!started || lastState != AngleBlock.GOOD || !(Math.abs(lastStep) <= PLAIN_STEP)) {
            return from;
        }
        double[] timeS = block.timeS;
        double[] angleDeg = block.angleDeg;
        byte[] state = block.state;
        double longest = longestStepS;
        int sameWindow = lastWindow;
        double time = lastTimeS;
        double before = goodWrapped;
        double turns = turnsDeg;
        double latest = lastStep;
        int i = from;
        while (i < n) {
            double t = timeS[i];
            if (state[i] != AngleBlock.GOOD || !(t - time <= longest) || window[i] != sameWindow) {
                break;
            }
            double wrapped = angleDeg[i];
            double step = wrapped - before;
            double turn = step > 180 ? -360 : step <= -180 ? 360 : 0;
            step += turn;
            if (!(Math.abs(step) <= PLAIN_STEP)) {
                break;
            }
            turns += turn;
            angleDeg[i] = turns + wrapped;
            latest = step;
            before = wrapped;
            time = t;
            i++;
        }
        if (i > from) {
            Arrays.fill(block.edge, from, i, AngleBlock.NONE);
            lastTimeS = time;
            lastStep = latest;
            turnsDeg = turns;
            goodTimeS = time;
            goodWrapped = before;
            goodAngle = angleDeg[i - 1];
            for (int k = Math.max(from, i - ringTime.length); k < i; k++) {
                remember(timeS[k], angleDeg[k]);
            }
        }
        return i;
    }

    /**
     * Does the neighbours from sample {@code from} on that have no angle, as the one before had none and for the same
     * cause: most samples of a unit whose sensors sleep. Returns the first that it did not do.
     */
    private int blind(AngleBlock block, int[] window, int from, int n) {
        byte same = lastState;
        if (!started || same == AngleBlock.GOOD) {
            return from;
        }
        double[] timeS = block.timeS;
        byte[] state = block.state;
        double knownGapS = nextGap < knownGaps.size() ? knownGaps.get(nextGap).fromS() : Double.POSITIVE_INFINITY;
        double aThird = longestStepS / 3;
        double longest = longestStepS;
        int sameWindow = lastWindow;
        double time = lastTimeS;
        int i = from;
        while (i < n) {
            double t = timeS[i];
            if (state[i] != same || !(t - time <= longest) || window[i] != sameWindow || knownGapS < t - aThird) {
                break;
            }
            time = t;
            i++;
        }
        if (i > from) {
            Arrays.fill(block.edge, from, i, AngleBlock.NONE);
            Arrays.fill(block.angleDeg, from, i, goodAngle);
            lastTimeS = time;
        }
        return i;
    }

    private byte step(AngleBlock block, int i, double t) {
        double wrapped = block.angleDeg[i];
        double step = wrapped - goodWrapped;
        byte edge = AngleBlock.NONE;
        if (step > 180) {
            step -= 360;
            turnsDeg -= 360;
        } else if (step <= -180) {
            step += 360;
            turnsDeg += 360;
        }
        double other = step > 0 ? step - 360 : step + 360;
        if (Math.abs(step - lastStep) > Math.abs(other - lastStep) / 2) {
            edge = AngleBlock.AMBIGUOUS;
            ringCount = 0;
            lastStep = 0;
        } else {
            lastStep = step;
        }
        good(t, wrapped, turnsDeg + wrapped);
        block.angleDeg[i] = goodAngle;
        return edge;
    }

    private void good(double t, double wrapped, double angle) {
        goodTimeS = t;
        goodWrapped = wrapped;
        goodAngle = angle;
        anyGood = true;
        remember(t, angle);
    }

    private void remember(double t, double angle) {
        ringTime[ringNext] = t;
        ringAngle[ringNext] = angle;
        ringNext = ringNext + 1 == ringTime.length ? 0 : ringNext + 1;
        ringCount = Math.min(ringCount + 1, ringTime.length);
    }

    private void special(AngleBlock block, int[] window, int i, int n, double t, byte state) {
        byte edge = edge(t, window[i], state);
        block.edge[i] = edge;
        started = true;
        if (state != AngleBlock.GOOD) {
            block.angleDeg[i] = goodAngle;
            return;
        }
        double wrapped = block.angleDeg[i];
        if (anyGood) {
            boolean sameWindow = edge != AngleBlock.WINDOW && edge != AngleBlock.CLOCK_STOPPED && !broken;
            double travel = sameWindow ? bridge(block, window, i, n, t) : 0;
            boolean known = !Double.isNaN(travel);
            double expected = goodAngle + (known ? travel : 0);
            turnsDeg += 360 * Math.rint((expected - turnsDeg - wrapped) / 360);
            if (edge == AngleBlock.NONE && !broken && !(known && Math.abs(turnsDeg + wrapped - expected) < NEAR)) {
                block.edge[i] = AngleBlock.AMBIGUOUS;
            }
        }
        ringCount = 0;
        lastStep = 0;
        broken = false;
        good(t, wrapped, turnsDeg + wrapped);
        block.angleDeg[i] = goodAngle;
    }

    private byte edge(double t, int window, byte state) {
        boolean behindBreak = nextBreak.passedBy(t);
        if (!started) {
            return AngleBlock.START;
        }
        boolean rowsMissing = t - lastTimeS > longestStepS;
        boolean known = isKnownGap(t);
        if (behindBreak) {
            broken = true; // speeds before it tell nothing of what is behind
            ringCount = 0;
            return AngleBlock.BREAK;
        }
        if (hasWindow && window != lastWindow) {
            return rowsMissing ? AngleBlock.WINDOW : AngleBlock.CLOCK_STOPPED;
        }
        if (known) {
            return AngleBlock.GAP;
        }
        if (rowsMissing) {
            boolean windowEnd = !hasWindow
                    && !anyUnpowered
                    && t - lastTimeS >= SHORTEST_WINDOW_GAP_S
                    && lastState == AngleBlock.GOOD
                    && endedAtRest();
            return windowEnd ? AngleBlock.WINDOW : AngleBlock.GAP;
        }
        if (lastState == AngleBlock.OFF && state != AngleBlock.OFF) {
            return AngleBlock.WINDOW;
        }
        return AngleBlock.NONE;
    }

    /** Whether the source knows of a loss between the sample before and this one. */
    private boolean isKnownGap(double t) {
        boolean known = false;
        while (nextGap < knownGaps.size() && knownGaps.get(nextGap).fromS() < t - longestStepS / 3) {
            known |= knownGaps.get(nextGap).toS() > lastTimeS + longestStepS / 3;
            nextGap++;
        }
        return known;
    }

    private boolean endedAtRest() {
        if (ringCount < 3) {
            return false;
        }
        return Math.abs(speedBefore(ringCount)) < restSpeed;
    }

    /** Mean speed over the last {@code count} good samples, degrees a second. */
    private double speedBefore(int count) {
        int newest = (ringNext + ringTime.length - 1) % ringTime.length;
        int oldest = (ringNext + ringTime.length - count) % ringTime.length;
        return (ringAngle[newest] - ringAngle[oldest]) / (ringTime[newest] - ringTime[oldest]);
    }

    /** Travel to expect over a loss, from the speeds on both sides; 0 at rest, NaN where the loss is too long to tell. */
    private double bridge(AngleBlock block, int[] window, int i, int n, double t) {
        double lost = t - goodTimeS;
        double before = ringCount > SIDE ? speedBefore(SIDE + 1) : ringCount >= 2 ? speedBefore(ringCount) : 0;
        double after = speedAfter(block, window, i, n);
        if (Math.abs(before) < restSpeed && Math.abs(after) < restSpeed) {
            return 0;
        }
        return lost > LONGEST_BRIDGE_S ? Double.NaN : (before + after) / 2 * lost;
    }

    private double speedAfter(AngleBlock block, int[] window, int i, int n) {
        double travel = 0;
        int j = i;
        while (j + 1 < n
                && j < i + SIDE
                && block.state[j + 1] == AngleBlock.GOOD
                && block.timeS[j + 1] - block.timeS[j] <= longestStepS
                && !(block.timeS[j + 1] > nextBreak.boundaryS)
                && window[j + 1] == window[i]) {
            travel += Math.IEEEremainder(block.angleDeg[j + 1] - block.angleDeg[j], 360);
            j++;
        }
        return j == i ? 0 : travel / (block.timeS[j] - block.timeS[i]);
    }
}
