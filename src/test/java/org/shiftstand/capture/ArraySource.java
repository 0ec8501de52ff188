package org.shiftstand.capture;

import java.util.Arrays;
import java.util.List;

/**
 * Samples held in arrays, for callers that have them in memory. Built step by step: channels that are not given are
 * absent.
 *
 * <p>Arrays are kept, not copied: the caller no longer changes them.
 */
public final class ArraySource implements SampleSource {
    private final double[] timeS;
    private final double[] hallSin;
    private final double[] hallCos;
    private double intervalS;
    private boolean[] powered = {};
    private int[] window = {};
    private double[] currentA = {};
    private double[] supplyV = {};
    private List<Request> requests = List.of();
    private List<Double> supplyCuts = List.of();
    private List<Gap> gaps = List.of();
    private List<Break> breaks = List.of();
    private final SourceIdentity identity = new SourceIdentity("array", "array", "");

    /**
     * @param timeS seconds, increasing
     * @param hallSin length of {@code timeS}
     * @param hallCos length of {@code timeS}
     */
    public ArraySource(double[] timeS, double[] hallSin, double[] hallCos) {
        if (timeS.length != hallSin.length || timeS.length != hallCos.length) {
            throw new IllegalArgumentException("arrays must be of one length: time=" + timeS.length + " sin="
                    + hallSin.length + " cos=" + hallCos.length);
        }
        this.timeS = timeS;
        this.hallSin = hallSin;
        this.hallCos = hallCos;
        double[] differences = new double[Math.max(1, timeS.length - 1)];
        for (int i = 1; i < timeS.length; i++) {
            differences[i - 1] = timeS[i] - timeS[i - 1];
        }
        Arrays.sort(differences);
        intervalS = differences[differences.length / 2];
    }

    /** States the sampling interval, seconds, instead of the median difference. */
    public ArraySource interval(double seconds) {
        intervalS = seconds;
        return this;
    }

    public ArraySource powered(boolean[] values) {
        powered = checked(values.length, values);
        return this;
    }

    public ArraySource window(int[] values) {
        window = checked(values.length, values);
        return this;
    }

    /** Supply current, ampere. */
    public ArraySource current(double[] amperes) {
        currentA = checked(amperes.length, amperes);
        return this;
    }

    /** Supply voltage, volt. */
    public ArraySource supply(double[] volts) {
        supplyV = checked(volts.length, volts);
        return this;
    }

    public ArraySource requests(List<Request> marked) {
        requests = List.copyOf(marked);
        return this;
    }

    /** Instants at which the supply was cut, seconds. */
    public ArraySource supplyCuts(List<Double> instantsS) {
        supplyCuts = List.copyOf(instantsS);
        return this;
    }

    public ArraySource gaps(List<Gap> known) {
        gaps = List.copyOf(known);
        return this;
    }

    public ArraySource breaks(List<Break> known) {
        breaks = List.copyOf(known);
        return this;
    }

    private <T> T checked(int length, T values) {
        if (length != timeS.length) {
            throw new IllegalArgumentException(
                    "a channel must be as long as the times: length=" + length + " times=" + timeS.length);
        }
        return values;
    }

    @Override
    public SourceIdentity identity() {
        return identity;
    }

    @Override
    public Channels channels() {
        return new Channels(powered.length > 0, window.length > 0, currentA.length > 0, supplyV.length > 0);
    }

    @Override
    public double intervalS() {
        return intervalS;
    }

    @Override
    public SampleReader open() {
        return new Reader(0);
    }

    @Override
    public SampleReader open(long fromSample) {
        return new Reader((int) Math.min(timeS.length, fromSample));
    }

    @Override
    public List<Request> requests() {
        return requests;
    }

    @Override
    public List<Double> supplyCuts() {
        return supplyCuts;
    }

    @Override
    public List<Gap> gaps() {
        return gaps;
    }

    @Override
    public List<Break> breaks() {
        return breaks;
    }

    @Override
    public List<String> notices() {
        return List.of();
    }

    @Override
    public void close() {
        // holds nothing but memory
    }

    private final class Reader implements SampleReader {
        private int at;

        Reader(int at) {
            this.at = at;
        }

        @Override
        public boolean next(SampleBlock block) {
            int n = Math.min(block.capacity(), timeS.length - at);
            System.arraycopy(timeS, at, block.timeS, 0, n);
            System.arraycopy(hallSin, at, block.hallSin, 0, n);
            System.arraycopy(hallCos, at, block.hallCos, 0, n);
            copyOrFill(currentA, block.currentA, n);
            copyOrFill(supplyV, block.supplyV, n);
            if (powered.length > 0) {
                System.arraycopy(powered, at, block.powered, 0, n);
            } else {
                Arrays.fill(block.powered, 0, n, true);
            }
            if (window.length > 0) {
                System.arraycopy(window, at, block.window, 0, n);
            } else {
                Arrays.fill(block.window, 0, n, 0);
            }
            at += n;
            block.size(n);
            return n > 0;
        }

        private void copyOrFill(double[] from, double[] to, int n) {
            if (from.length > 0) {
                System.arraycopy(from, at, to, 0, n);
            } else {
                Arrays.fill(to, 0, n, Double.NaN);
            }
        }

        @Override
        public void close() {
            // holds nothing
        }
    }
}
