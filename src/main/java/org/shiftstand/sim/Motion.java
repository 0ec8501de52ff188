package org.shiftstand.sim;

import java.util.Arrays;

/**
 * The noise-free motion of one shift: corner points of angle over time, straight between them. Points come each step while
 * the shaft moves, and at both ends of a rest. Reused from shift to shift.
 */
final class Motion {
    private long[] atNanos = new long[4096];
    private double[] deg = new double[4096];
    private int size;

    void clear() {
        size = 0;
    }

    void add(long nanos, double angleDeg) {
        if (size == atNanos.length) {
            atNanos = Arrays.copyOf(atNanos, 2 * size);
            deg = Arrays.copyOf(deg, 2 * size);
        }
        atNanos[size] = nanos;
        deg[size] = angleDeg;
        size++;
    }

    int size() {
        return size;
    }

    double deg(int i) {
        return deg[i];
    }

    double seconds(int i) {
        return atNanos[i] * 1e-9;
    }

    /** Farthest angle in a direction among the points from {@code first} on. */
    double farthest(int sign, int first) {
        double best = deg[first];
        for (int i = first + 1; i < size; i++) {
            if ((deg[i] - best) * sign > 0) {
                best = deg[i];
            }
        }
        return best;
    }

    /** First time at or after point {@code first} at which the angle is outside ± band about the centre; NaN if never. */
    double leaves(double centreDeg, double bandDeg, int first) {
        for (int i = first; i < size; i++) {
            double off = deg[i] - centreDeg;
            if (Math.abs(off) > bandDeg) {
                return i == first ? seconds(i) : crossing(i - 1, centreDeg + Math.copySign(bandDeg, off));
            }
        }
        return Double.NaN;
    }

    /** Last time up to point {@code last} at which the angle came inside ± band about the centre, where it is at {@code last}. */
    double enters(double centreDeg, double bandDeg, int last) {
        for (int i = last; i >= 0; i--) {
            double off = deg[i] - centreDeg;
            if (Math.abs(off) > bandDeg) {
                return crossing(i, centreDeg + Math.copySign(bandDeg, off));
            }
        }
        return seconds(0);
    }

    /** First time at which the angle reaches a level in a direction; NaN if never. */
    double reaches(double levelDeg, int sign) {
        for (int i = 0; i < size; i++) {
            if ((deg[i] - levelDeg) * sign >= 0) {
                return i == 0 ? seconds(0) : crossing(i - 1, levelDeg);
            }
        }
        return Double.NaN;
    }

    /** When the line from point i to the next passes a level. */
    private double crossing(int i, double levelDeg) {
        double part = (levelDeg - deg[i]) / (deg[i + 1] - deg[i]);
        return seconds(i) + part * (seconds(i + 1) - seconds(i));
    }
}
