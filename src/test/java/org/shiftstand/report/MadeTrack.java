package org.shiftstand.report;

import java.util.List;
import org.shiftstand.angle.AngleBlock;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.Judgement;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;

/** A track that does what the shifts of a fixture say, in ramps with a little ringing; invented. */
final class MadeTrack implements AngleTrack {
    private static final double INTERVAL_S = 1 / 512.0;

    private final Judgement judgement;
    private final List<Shift> shifts;

    MadeTrack(Judgement judgement) {
        this.judgement = judgement;
        this.shifts = judgement.table().shifts();
    }

    @Override
    public AngleReader open() {
        return open(0);
    }

    @Override
    public AngleReader open(double fromS) {
        return new AngleReader() {
            private long next = Math.max(0, (long) Math.floor(fromS / INTERVAL_S) - 100);

            @Override
            public boolean next(AngleBlock block) {
                int n = 0;
                while (n < block.capacity() && next * INTERVAL_S < shifts.size() * Fixture.PERIOD_S + 2) {
                    sample(block, n++, next++ * INTERVAL_S);
                }
                block.size(n);
                return n > 0;
            }

            @Override
            public void close() {}
        };
    }

    private void sample(AngleBlock block, int i, double t) {
        int k = Math.max(0, Math.min(shifts.size() - 1, (int) ((t - 0.4) / Fixture.PERIOD_S)));
        Shift shift = shifts.get(k);
        block.timeS[i] = t;
        block.angleDeg[i] = angle(shift, t) - judgement.table().alignmentDeg().orElse(0);
        boolean lost = shift.evidence() == Evidence.SENSOR_FAULT && Math.abs(t - time(shift) - 0.1) < 0.012;
        block.state[i] = lost ? AngleBlock.FAULT : AngleBlock.GOOD;
        block.edge[i] = AngleBlock.NONE;
        block.powered[i] = true;
        double since = t - time(shift);
        block.currentA[i] = since > 0.03 && since < 0.2 ? 0.9 + 1.2 * Math.exp(-(since - 0.03) * 30) : 0.04;
        block.supplyV[i] = Double.NaN;
        block.radius[i] = 1;
    }

    private static double time(Shift shift) {
        return shift.get(Measure.REQUEST).number().orElseThrow();
    }

    private static double angle(Shift shift, double t) {
        double start = shift.get(Measure.START).number().orElse(0);
        double landing = shift.get(Measure.LANDING).number().orElse(start);
        double top = shift.get(Measure.PLATEAU).number().orElse(landing);
        double hold = shift.get(Measure.HOLD).number().orElse(0);
        double since = t - time(shift) - 0.025;
        if (since < 0) {
            return start;
        }
        double there = 0.17 + Math.abs(top - landing) / 5000;
        if (since < there) {
            return start + (top - start) * smooth(since / there);
        }
        if (since < there + hold) {
            return top + ringing(since - there, Math.signum(top - start));
        }
        double back = 0.05 + Math.abs(top - landing) / 5000;
        double after = since - there - hold;
        return after < back
                ? top + (landing - top) * smooth(after / back)
                : landing + (top == landing ? ringing(after, Math.signum(top - start)) : 0);
    }

    private static double smooth(double x) {
        return x * x * (3 - 2 * x);
    }

    private static double ringing(double since, double sign) {
        return sign * 6 * Math.exp(-since * 40) * Math.sin(since * 120);
    }

    @Override
    public Correction correction() {
        return judgement.correction();
    }

    @Override
    public SampleSource.Channels channels() {
        return new SampleSource.Channels(false, false, true, false);
    }

    @Override
    public double intervalS() {
        return INTERVAL_S;
    }

    @Override
    public List<Request> requests() {
        return List.of();
    }

    @Override
    public List<Double> supplyCuts() {
        return List.of();
    }
}
