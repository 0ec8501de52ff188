package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.shiftstand.angle.AngleBlock;

/**
 * The good samples around the shift that is being looked at, oldest first, with what lies between them.
 *
 * <p>Grows at the end, is dropped at the front, and loses the inside of long rests, so its size follows the length of a
 * shift and never that of a run. What is left out (sensors off, faults, insides of rests) stays in {@link #leftOut} as
 * charge, energy and peak current. A final class, not a record: its arrays are shared with its package.
 */
final class Trace {
    /** The sample before is a neighbour. */
    static final byte NONE = 0;
    /** Inside of a rest left out to save memory; the clock ran, nothing is missing. */
    static final byte ELIDED = 1;
    /** Sensors were off; the clock ran. */
    static final byte WINDOW = 2;
    /** Sensors were off; the clock stood still. */
    static final byte CLOCK = 3;
    /** A sensor fault. */
    static final byte FAULT = 4;
    /** Missing samples, or an ambiguous turn. */
    static final byte GAP = 5;

    double[] timeS;
    double[] deg;
    double[] currentA;
    double[] supplyV;
    /** What lies between a sample and the one before it. */
    byte[] gap;

    private final Selection selection = new Selection();

    int size;
    final List<PowerUp> powerUps = new ArrayList<>();
    final List<LeftOut> leftOut = new ArrayList<>();

    /** Sensors were powered up at {@code atS}, just before sample {@code index}. */
    static final class PowerUp {
        int index;
        final double atS;

        PowerUp(int index, double atS) {
            this.index = index;
            this.atS = atS;
        }
    }

    /** Samples that were there but are not kept, just before sample {@code index}. */
    static final class LeftOut {
        int index;
        double chargeAs;
        double energyJ;
        double peakA = Double.NEGATIVE_INFINITY;
        /** Seconds that the sums cover. */
        double coveredS;

        LeftOut(int index) {
            this.index = index;
        }

        void add(double stepS, double a0, double v0, double a1, double v1) {
            coveredS += stepS;
            chargeAs += 0.5 * stepS * (a0 + a1);
            energyJ += 0.5 * stepS * (a0 * v0 + a1 * v1);
            peakA = Math.max(peakA, a1);
        }

        /** Adds samples {@code from…to − 1} of a block, each with the step from the one before it, steps over {@code longestS} apart. */
        void add(AngleBlock block, int from, int to, double longestS) {
            double[] timeS = block.timeS;
            double[] currentA = block.currentA;
            double[] supplyV = block.supplyV;
            double charge = chargeAs;
            double energy = energyJ;
            double peak = peakA;
            double covered = coveredS;
            for (int i = from; i < to; i++) {
                double step = timeS[i] - timeS[i - 1];
                if (step <= longestS) {
                    double a0 = currentA[i - 1];
                    double a1 = currentA[i];
                    covered += step;
                    charge += 0.5 * step * (a0 + a1);
                    energy += 0.5 * step * (a0 * supplyV[i - 1] + a1 * supplyV[i]);
                    peak = Math.max(peak, a1);
                }
            }
            chargeAs = charge;
            energyJ = energy;
            peakA = peak;
            coveredS = covered;
        }
    }

    Trace(int capacity) {
        timeS = new double[capacity];
        deg = new double[capacity];
        currentA = new double[capacity];
        supplyV = new double[capacity];
        gap = new byte[capacity];
    }

    /** Appends neighbours {@code from…to − 1} of a block; only the first may follow a break. */
    void append(AngleBlock block, int from, int to, byte firstGap) {
        int n = to - from;
        reserve(n);
        System.arraycopy(block.timeS, from, timeS, size, n);
        System.arraycopy(block.currentA, from, currentA, size, n);
        System.arraycopy(block.supplyV, from, supplyV, size, n);
        System.arraycopy(block.angleDeg, from, deg, size, n);
        Arrays.fill(gap, size, size + n, NONE);
        gap[size] = firstGap;
        size += n;
    }

    /** Keeps only the sums of the first {@code skip} samples of {@code from…to − 1}, all neighbours, and appends the others. */
    void appendAfterSkipping(AngleBlock block, int from, int skip, int to) {
        LeftOut sums = leftOutAt(size);
        for (int k = from + 1; k <= from + skip; k++) {
            sums.add(
                    block.timeS[k] - block.timeS[k - 1],
                    block.currentA[k - 1],
                    block.supplyV[k - 1],
                    block.currentA[k],
                    block.supplyV[k]);
        }
        append(block, from + skip, to, ELIDED);
    }

    private void reserve(int n) {
        if (size + n > timeS.length) {
            int capacity = Math.max(size + n, timeS.length * 2);
            timeS = Arrays.copyOf(timeS, capacity);
            deg = Arrays.copyOf(deg, capacity);
            currentA = Arrays.copyOf(currentA, capacity);
            supplyV = Arrays.copyOf(supplyV, capacity);
            gap = Arrays.copyOf(gap, capacity);
        }
    }

    /** Forgets the first {@code n} samples. */
    void drop(int n) {
        remove(0, n);
        powerUps.removeIf(p -> p.index < n);
        leftOut.removeIf(l -> l.index < n);
        powerUps.forEach(p -> p.index -= n);
        leftOut.forEach(l -> l.index -= n);
    }

    /** Leaves out samples {@code from…to − 1}, the inside of a rest, and keeps their charge; returns how many. */
    int elide(int from, int to) {
        LeftOut sums = leftOutAt(to);
        for (int i = from; i <= to && i < size; i++) {
            if (gap[i] == NONE && i > 0) {
                sums.add(timeS[i] - timeS[i - 1], currentA[i - 1], supplyV[i - 1], currentA[i], supplyV[i]);
            }
        }
        byte worst = ELIDED;
        for (int i = from; i <= to && i < size; i++) {
            worst = (byte) Math.max(worst, gap[i]);
        }
        // sums of other breaks inside are joined to this one
        for (LeftOut other : leftOut) {
            if (other != sums && other.index >= from && other.index < to) {
                sums.chargeAs += other.chargeAs;
                sums.energyJ += other.energyJ;
                sums.peakA = Math.max(sums.peakA, other.peakA);
                sums.coveredS += other.coveredS;
            }
        }
        leftOut.removeIf(l -> l != sums && l.index >= from && l.index < to);
        powerUps.removeIf(p -> p.index >= from && p.index < to);
        remove(from, to - from);
        int n = to - from;
        powerUps.forEach(p -> p.index -= p.index >= to ? n : 0);
        leftOut.forEach(l -> l.index -= l.index >= to ? n : 0);
        if (from < size) {
            gap[from] = worst;
        }
        return n;
    }

    /** The sums just before sample {@code index}, new where there are none. */
    LeftOut leftOutAt(int index) {
        for (int i = leftOut.size() - 1; i >= 0; i--) {
            if (leftOut.get(i).index == index) {
                return leftOut.get(i);
            }
        }
        LeftOut sums = new LeftOut(index);
        leftOut.add(sums);
        return sums;
    }

    private void remove(int from, int n) {
        int rest = size - from - n;
        System.arraycopy(timeS, from + n, timeS, from, rest);
        System.arraycopy(deg, from + n, deg, from, rest);
        System.arraycopy(currentA, from + n, currentA, from, rest);
        System.arraycopy(supplyV, from + n, supplyV, from, rest);
        System.arraycopy(gap, from + n, gap, from, rest);
        size -= n;
    }

    /** The worst break before samples {@code from + 1 … to}. */
    byte worstGap(int from, int to) {
        byte worst = NONE;
        for (int i = from + 1; i <= to && i < size; i++) {
            worst = (byte) Math.max(worst, gap[i]);
        }
        return worst;
    }

    /** First sample of {@code from + 1 … to} behind missing or faulty ones; −1 where there is none. */
    int firstDamaged(int from, int to) {
        for (int i = Math.max(0, from) + 1; i <= to && i < size; i++) {
            if (gap[i] >= FAULT) {
                return i;
            }
        }
        return -1;
    }

    /** What a shift with this damage is told by. */
    Evidence evidence(int damaged) {
        return gap[damaged] == FAULT ? Evidence.SENSOR_FAULT : Evidence.GAP;
    }

    /** When the angle, on its way from sample {@code i − 1} to {@code i}, passes {@code level}; linear. */
    double crossingS(int i, double level) {
        double from = deg[i - 1];
        double to = deg[i];
        double share = to == from ? 0 : (level - from) / (to - from);
        return timeS[i - 1] + Math.max(0, Math.min(1, share)) * (timeS[i] - timeS[i - 1]);
    }

    /** Median of the angles of samples {@code from…to − 1}; needs at least one. */
    double median(int from, int to) {
        return selection.median(deg, from, to);
    }
}
