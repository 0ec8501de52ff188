package org.shiftstand.shift;

import java.util.Arrays;

/**
 * The longest run of samples up to the newest that lies within a band: its first sample and its range, kept while
 * samples are added. A few operations a sample whatever the sampling rate: walking back from each sample anew showed at
 * 4 kHz, where hundreds of samples of a slow approach lie within the band.
 *
 * <p>Behind {@code middle} the range is summed up; for each sample before it the range from there to {@code middle} is
 * stored, so that shortening the run is a look at one number after the other.
 */
final class SlidingRange {
    private int first;
    private double min;
    private double max;

    private int middle = -1;
    private int behind;
    private double behindMin;
    private double behindMax;
    /** Range of samples {@code middle − k…middle}, for each k. */
    private double[] lowest = new double[256];

    private double[] highest = new double[256];

    /** The first sample of the run. */
    int first() {
        return first;
    }

    double min() {
        return min;
    }

    double max() {
        return max;
    }

    /** A run of sample {@code index} alone. */
    void start(int index, double value) {
        middle = -1; // the inside of a rest may have been left out since: what is stored is of other samples
        set(index, value, value);
    }

    /** The run from its sample {@code index} on, whose range up to the newest sample the caller knows. */
    void set(int index, double low, double high) {
        first = index;
        min = low;
        max = high;
    }

    /** Adds the next sample where the range stays within the band; else changes nothing, and {@link #shorten} is to follow. */
    boolean takes(double value, double bandDeg) {
        double low = value < min ? value : min;
        double high = value > max ? value : max;
        if (high - low > bandDeg) {
            return false;
        }
        min = low;
        max = high;
        return true;
    }

    /** Takes sample {@code i} of {@code deg}, the next one, and drops as many of the oldest as the band asks for. */
    void shorten(double[] deg, int i, double bandDeg) {
        if (first > middle) {
            walkBack(deg, i, bandDeg);
            return;
        }
        while (behind < i) {
            double x = deg[++behind];
            behindMin = x < behindMin ? x : behindMin;
            behindMax = x > behindMax ? x : behindMax;
        }
        for (int k = middle - first; k >= 0; k--) {
            double low = lowest[k] < behindMin ? lowest[k] : behindMin;
            double high = highest[k] > behindMax ? highest[k] : behindMax;
            if (!(high - low > bandDeg)) {
                set(middle - k, low, high);
                return;
            }
        }
        first = middle + 1;
        walkBack(deg, i, bandDeg);
    }

    private void walkBack(double[] deg, int i, double bandDeg) {
        double low = deg[i];
        double high = low;
        store(0, low, high);
        int at = i;
        while (at > first) {
            double x = deg[at - 1];
            double lower = x < low ? x : low;
            double higher = x > high ? x : high;
            if (higher - lower > bandDeg) {
                break;
            }
            low = lower;
            high = higher;
            at--;
            store(i - at, low, high);
        }
        middle = i;
        behind = i;
        behindMin = Double.POSITIVE_INFINITY;
        behindMax = Double.NEGATIVE_INFINITY;
        set(at, low, high);
    }

    private void store(int k, double low, double high) {
        if (k == lowest.length) {
            lowest = Arrays.copyOf(lowest, 2 * k);
            highest = Arrays.copyOf(highest, 2 * k);
        }
        lowest[k] = low;
        highest[k] = high;
    }

    /** The trace forgot its first {@code n} samples. */
    void drop(int n) {
        first = Math.max(0, first - n);
        middle = -1; // what is stored may reach back before the trace
    }
}
