package org.shiftstand.shift;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.quantity.Direction;

/** Draws an angle track stretch by stretch, without noise. Times in milliseconds, angles in degrees. */
final class TrackBuilder implements AngleTrack {
    private final List<double[]> samples = new ArrayList<>(); // time, angle, current, supply
    private final List<byte[]> marks = new ArrayList<>(); // state, edge, powered
    private final List<Request> requests = new ArrayList<>();
    private final List<Double> cuts = new ArrayList<>();
    private final List<SampleSource.Break> breaks = new ArrayList<>();
    private double interval = 1.0 / 512;
    private double now;
    private double at;
    private double current = 0.01;
    private byte edge = AngleBlock.START;
    private boolean powered = true;
    private boolean hallPower;
    private boolean window;
    private boolean hasCurrent;
    private boolean hasSupply;
    private int blockSize = 4096;
    private double firstSampleDeg = Double.NaN;
    private double turnsPerCycle = 1;

    static TrackBuilder track() {
        return new TrackBuilder();
    }

    /** Its magnet has so many periods in a turn of the shaft. */
    TrackBuilder periods(int periods) {
        turnsPerCycle = 1.0 / periods;
        return this;
    }

    TrackBuilder rate(double hertz) {
        interval = 1 / hertz;
        return this;
    }

    TrackBuilder blocks(int size) {
        blockSize = size;
        return this;
    }

    TrackBuilder sense(int sign) {
        samples.forEach(s -> s[1] *= sign);
        return this;
    }

    TrackBuilder current(double ampere) {
        current = ampere;
        hasCurrent = true;
        return this;
    }

    TrackBuilder supplyMeasured() {
        hasSupply = true;
        return this;
    }

    private void sample(double deg) {
        sample(deg, AngleBlock.GOOD);
    }

    private void sample(double deg, byte state) {
        double shown = Double.isNaN(firstSampleDeg) ? deg : firstSampleDeg;
        firstSampleDeg = Double.NaN;
        samples.add(new double[] {now, shown, current, 8});
        marks.add(new byte[] {state, edge, (byte) (powered ? 1 : 0)});
        edge = AngleBlock.NONE;
        now += interval;
    }

    private int count(double ms) {
        return (int) Math.round(ms / 1000 / interval);
    }

    TrackBuilder restAt(double deg, double ms) {
        at = deg;
        for (int i = count(ms); i > 0; i--) {
            sample(deg);
        }
        return this;
    }

    TrackBuilder rest(double ms) {
        return restAt(at, ms);
    }

    /** In a straight line, beginning one interval after the last sample. */
    TrackBuilder moveTo(double deg, double ms) {
        int n = count(ms);
        double from = at;
        for (int i = 1; i <= n; i++) {
            sample(from + (deg - from) * i / n);
        }
        at = deg;
        return this;
    }

    /** Decaying swings of the given amplitude around where it is, at 20 Hz. */
    TrackBuilder ringing(double amplitude, double ms) {
        for (int i = 1; i <= count(ms); i++) {
            double t = i * interval;
            sample(at + amplitude * Math.sin(2 * Math.PI * 20 * t) * Math.exp(-t / 0.03));
        }
        return this;
    }

    /** Swings that do not decay. */
    TrackBuilder hunting(double amplitude, double ms) {
        for (int i = 1; i <= count(ms); i++) {
            sample(at + amplitude * Math.sin(2 * Math.PI * 5 * i * interval));
        }
        return this;
    }

    /** Samples are lost while the clock runs. */
    TrackBuilder lost(double ms) {
        now += count(ms) * interval;
        edge = AngleBlock.GAP;
        return this;
    }

    /** Lost while it moved on to another angle, as seen: whole turns away from the truth. */
    TrackBuilder lostTo(double deg, double ms) {
        at = deg;
        return lost(ms);
    }

    TrackBuilder fault(double ms) {
        for (int i = count(ms); i > 0; i--) {
            sample(at, AngleBlock.FAULT);
        }
        return this;
    }

    /** Rows only while the sensors are powered: nothing for a while, then a new window. */
    TrackBuilder sleep(double ms) {
        hallPower = true;
        now += count(ms) * interval;
        edge = AngleBlock.WINDOW;
        return this;
    }

    /** Rows go on, without an angle. */
    TrackBuilder sensorsOff(double ms) {
        hallPower = true;
        powered = false;
        for (int i = count(ms); i > 0; i--) {
            sample(at, AngleBlock.OFF);
        }
        powered = true;
        edge = AngleBlock.WINDOW;
        return this;
    }

    TrackBuilder clockStops() {
        window = true;
        edge = AngleBlock.CLOCK_STOPPED;
        return this;
    }

    /** The capture says when sensors are powered. */
    TrackBuilder gated() {
        hallPower = true;
        return this;
    }

    TrackBuilder power(boolean on) {
        hallPower = true;
        powered = on;
        return this;
    }

    /** The next sample shows this instead. */
    TrackBuilder nextSampleShows(double deg) {
        firstSampleDeg = deg;
        return this;
    }

    TrackBuilder request(Direction direction) {
        requests.add(request(Optional.of(direction), 0, 0, 0));
        return this;
    }

    TrackBuilder request(int from, int to, int cycle) {
        requests.add(request(Optional.of(Direction.of(to - from)), from, to, cycle));
        return this;
    }

    /** Homing: a request that belongs to no cycle. */
    TrackBuilder home() {
        requests.add(request(Optional.of(Direction.OUTBOARD), 0, 0, 0));
        return this;
    }

    private Request request(Optional<Direction> direction, int from, int to, int cycle) {
        return new Request(
                now - interval / 2,
                direction,
                from > 0 ? OptionalInt.of(from) : OptionalInt.empty(),
                to > 0 ? OptionalInt.of(to) : OptionalInt.empty(),
                to > 0 ? OptionalInt.of(cycle) : OptionalInt.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                false);
    }

    /** The run is broken off and goes on later, wherever the shaft is found then. */
    TrackBuilder breakOff(double ms) {
        double last = now - interval;
        now += count(ms) * interval;
        breaks.add(new SampleSource.Break(last, now, "the program was gone"));
        edge = AngleBlock.BREAK;
        return this;
    }

    TrackBuilder cutSupply() {
        cuts.add(now - interval / 2);
        return this;
    }

    double nowS() {
        return now;
    }

    @Override
    public AngleReader open() {
        return open(Double.NEGATIVE_INFINITY);
    }

    @Override
    public AngleReader open(double fromS) {
        return new AngleReader() {
            private int next;

            @Override
            public boolean next(AngleBlock block) {
                int n = Math.min(Math.min(blockSize, block.capacity()), samples.size() - next);
                for (int i = 0; i < n; i++) {
                    double[] s = samples.get(next + i);
                    byte[] m = marks.get(next + i);
                    block.timeS[i] = s[0];
                    block.angleDeg[i] = s[1];
                    block.currentA[i] = hasCurrent ? s[2] : Double.NaN;
                    block.supplyV[i] = hasSupply ? s[3] : Double.NaN;
                    block.state[i] = m[0];
                    block.edge[i] = m[1];
                    block.powered[i] = m[2] == 1;
                    block.radius[i] = 1;
                }
                block.size(n);
                next += n;
                return n > 0;
            }

            @Override
            public void close() {}
        };
    }

    @Override
    public Correction correction() {
        return new Correction(0, 0, 1, 0, 1, 0, 0, "nominal", "none", 0, 0.5);
    }

    @Override
    public double cycleDeg() {
        return 360 * turnsPerCycle;
    }

    @Override
    public SampleSource.Channels channels() {
        return new SampleSource.Channels(hallPower, window, hasCurrent, hasSupply);
    }

    @Override
    public double intervalS() {
        return interval;
    }

    @Override
    public List<Request> requests() {
        return requests;
    }

    @Override
    public List<Double> supplyCuts() {
        return cuts;
    }

    @Override
    public List<SampleSource.Break> breaks() {
        return breaks;
    }
}
