package org.shiftstand.judge;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.Correction;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.capture.SourceIdentity;

/**
 * Samples of a few minutes kept in memory, to be decoded to angles as those of any run are: for a probe and for finding
 * limits, which leave no record.
 *
 * <p>Four channels a sample as on the wire. Memory is 8 bytes a sample; not for long runs. Not thread-safe.
 */
public final class HallTrace {
    /** Over an hour at 1 kHz: more is a defect of the caller. */
    private static final int MOST_SAMPLES = 1 << 22;

    private final double intervalS;
    private final double turnsPerCycle;
    private long[] micros = new long[4096];
    private short[] values = new short[4 * 4096];
    private int size;
    private final List<long[]> power = new ArrayList<>(); // at, 1 for on

    /**
     * Without samples yet.
     *
     * @param intervalNanos between samples, as configured
     * @param turnsPerCycle turns of the shaft in one electrical turn of the Hall pair
     */
    public HallTrace(long intervalNanos, double turnsPerCycle) {
        this.intervalS = intervalNanos / 1e9;
        this.turnsPerCycle = turnsPerCycle;
    }

    /**
     * Takes a block. Blocks come in time order.
     *
     * @param samples hall sine, hall cosine, current, supply, sample by sample
     */
    public void add(long firstMicros, long intervalNanos, short[] samples) {
        int n = samples.length / 4;
        if (size + n > MOST_SAMPLES) {
            throw new IllegalStateException("too many samples for memory: samples=" + (size + n));
        }
        if (size + n > micros.length) {
            int capacity = Math.max(2 * micros.length, size + n);
            micros = Arrays.copyOf(micros, capacity);
            values = Arrays.copyOf(values, 4 * capacity);
        }
        for (int i = 0; i < n; i++) {
            micros[size + i] = firstMicros + i * intervalNanos / 1000;
        }
        System.arraycopy(samples, 0, values, 4 * size, 4 * n);
        size += n;
    }

    /** The sensors went on or off. */
    public void power(long atMicros, boolean on) {
        power.add(new long[] {atMicros, on ? 1 : 0});
    }

    /** Samples so far. */
    public int size() {
        return size;
    }

    /** Rig's clock at a sample, µs. */
    public long micros(int i) {
        return micros[i];
    }

    /** Hall sine, hall cosine, current or supply (0 to 3) of a sample, counts. */
    public short counts(int i, int channel) {
        return values[4 * i + channel];
    }

    /** The first sample at or after a time; {@link #size} where there is none. */
    public int at(long atMicros) {
        int found = Arrays.binarySearch(micros, 0, size, atMicros);
        return found >= 0 ? found : -found - 1;
    }

    /** Angles of all samples so far. */
    public Angles decode() {
        AngleTrack track =
                HallDecoder.decode(new Source(), DecodeOptions.fromCapture().withTurnsPerCycle(turnsPerCycle));
        Correction c = track.correction();
        double[] deg = new double[size];
        boolean[] good = new boolean[size];
        int jumps = 0;
        int done = 0;
        AngleBlock block = new AngleBlock(8192);
        try (AngleReader reader = track.open()) {
            while (reader.next(block)) {
                for (int i = 0; i < block.size(); i++) {
                    deg[done] = block.angleDeg[i];
                    good[done] = block.state[i] == AngleBlock.GOOD;
                    jumps += block.edge[i] == AngleBlock.AMBIGUOUS || block.edge[i] == AngleBlock.GAP ? 1 : 0;
                    done++;
                }
            }
        }
        return new Angles(deg, good, jumps, ellipse(c), c.uncertaintyDeg(), track.cycleDeg());
    }

    private static Ellipse ellipse(Correction c) {
        return new Ellipse(
                c.ellipseFrom().equals("fit"),
                c.sinOffset(),
                c.cosOffset(),
                c.gainRatio(),
                c.phaseDeg(),
                c.radius(),
                c.secondOrderFrom().equals("fit"),
                Math.hypot(c.sin2Deg(), c.cos2Deg()),
                c.residualDeg());
    }

    /**
     * What the Hall pair is like.
     *
     * @param fitted whether it could be fitted; without, the rest is nominal
     * @param sinOffset counts
     * @param cosOffset counts
     * @param gainRatio cosine over sine
     * @param phaseDeg departure from quadrature
     * @param radius counts
     * @param harmonicFitted whether the second-order term could be estimated
     * @param harmonicDeg its amplitude, degrees
     * @param residualDeg root mean square of what is left after the correction; NaN without
     */
    public record Ellipse(
            boolean fitted,
            double sinOffset,
            double cosOffset,
            double gainRatio,
            double phaseDeg,
            double radius,
            boolean harmonicFitted,
            double harmonicDeg,
            double residualDeg) {}

    /** Decoded angles, one a sample; degrees, unwrapped, in the sense of the Hall pair, from an arbitrary origin. */
    public static final class Angles {
        private final double[] deg;
        private final boolean[] good;
        private final int jumps;
        private final Ellipse ellipse;
        private final double uncertaintyDeg;
        private final double cycleDeg;

        private Angles(
                double[] deg, boolean[] good, int jumps, Ellipse ellipse, double uncertaintyDeg, double cycleDeg) {
            this.deg = deg;
            this.good = good;
            this.jumps = jumps;
            this.ellipse = ellipse;
            this.uncertaintyDeg = uncertaintyDeg;
            this.cycleDeg = cycleDeg;
        }

        /** Angle of a sample; without meaning where it is not {@link #good}. */
        public double deg(int i) {
            return deg[i];
        }

        public boolean good(int i) {
            return good[i];
        }

        /** How often neighbours lie so far apart, or samples are missing, that whole turns may be lost. */
        public int jumps() {
            return jumps;
        }

        public Ellipse ellipse() {
            return ellipse;
        }

        /** Standard uncertainty of one angle, degrees. */
        public double uncertaintyDeg() {
            return uncertaintyDeg;
        }

        /** One electrical turn, degrees of the shaft. */
        public double cycleDeg() {
            return cycleDeg;
        }

        /** Median of the good samples from {@code from} up to, not with, {@code to}; NaN without any. */
        public double median(int from, int to) {
            double[] some = new double[Math.max(0, to - from)];
            int n = 0;
            for (int i = from; i < to; i++) {
                if (good[i]) {
                    some[n++] = deg[i];
                }
            }
            if (n == 0) {
                return Double.NaN;
            }
            Arrays.sort(some, 0, n);
            return n % 2 == 1 ? some[n / 2] : (some[n / 2 - 1] + some[n / 2]) / 2;
        }
    }

    /** The samples as the decoder takes them. */
    private final class Source implements SampleSource {
        @Override
        public SourceIdentity identity() {
            return new SourceIdentity("memory", "probe", "");
        }

        @Override
        public Channels channels() {
            return new Channels(!power.isEmpty(), false, true, true);
        }

        @Override
        public double intervalS() {
            return intervalS;
        }

        @Override
        public SampleReader open() {
            return new Reader();
        }

        @Override
        public List<Request> requests() {
            return List.of();
        }

        @Override
        public List<String> notices() {
            return List.of();
        }

        @Override
        public void close() {
            // memory only
        }
    }

    private final class Reader implements SampleReader {
        private int next;
        private int edge;
        // before the first event: the opposite of what it says
        private boolean on = power.isEmpty() || power.get(0)[1] == 0;

        @Override
        public boolean next(SampleBlock block) {
            int n = Math.min(block.capacity(), size - next);
            for (int i = 0; i < n; i++, next++) {
                long at = micros[next];
                while (edge < power.size() && power.get(edge)[0] <= at) {
                    on = power.get(edge++)[1] == 1;
                }
                block.timeS[i] = (at - micros[0]) / 1e6;
                block.hallSin[i] = values[4 * next];
                block.hallCos[i] = values[4 * next + 1];
                block.powered[i] = on;
                block.window[i] = 0;
                block.currentA[i] = values[4 * next + 2];
                block.supplyV[i] = values[4 * next + 3];
            }
            block.size(n);
            return n > 0;
        }

        @Override
        public void close() {
            // memory only
        }
    }
}
