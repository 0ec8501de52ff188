package org.shiftstand.learn.compare;

import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import org.shiftstand.angle.AngleReader;
import org.shiftstand.angle.AngleTrack;
import org.shiftstand.angle.Correction;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.capture.SourceIdentity;
import org.shiftstand.judge.Measurement;
import org.shiftstand.shift.Measure;
import org.shiftstand.spec.MadeShift;

/** A run made up of sweeps over ten sprockets and back: normal landings and overtravels, seeded. Invented. */
final class MadeRun {
    private final Random random;
    private final String name;
    private int sprockets = 10;
    private int cycles = 24;
    private double landingSd = 10;
    private double following;
    private double offset;
    private double movedLandings;
    private double movedOvertravel;
    private double cameIn = 1;
    private Optional<Instant> began = Optional.empty();
    private Optional<String> firmware = Optional.empty();
    private final Map<Aspect, String> setUp = new EnumMap<>(Map.of(Aspect.UNIT, "TD-0107", Aspect.RIG, "bench-two"));

    private MadeRun(String name, Random random) {
        this.name = name;
        this.random = random;
    }

    static MadeRun of(String name, Random random) {
        return new MadeRun(name, random);
    }

    MadeRun cycles(int n) {
        cycles = n;
        return this;
    }

    /** The smallest only, for what is about a single group: 2→1 is the first. */
    MadeRun sprockets(int n) {
        sprockets = n;
        return this;
    }

    MadeRun landingSd(double sd) {
        landingSd = sd;
        return this;
    }

    /** Each landing of a sprocket and direction keeps this share of the last one's error. */
    MadeRun following(double phi) {
        following = phi;
        return this;
    }

    /** All landings of the run, such as by another mounting. */
    MadeRun offset(double deg) {
        offset = deg;
        return this;
    }

    /** Landings onto every sprocket. */
    MadeRun landingsMovedBy(double deg) {
        movedLandings = deg;
        return this;
    }

    /** Overtravel of 4→5 only. */
    MadeRun overtravelOfOneMovedBy(double deg) {
        movedOvertravel = deg;
        return this;
    }

    /** Share of shifts of 4→5 whose overtravel comes. */
    MadeRun overtravelOfOneComesIn(double share) {
        cameIn = share;
        return this;
    }

    MadeRun began(String utc) {
        began = Optional.of(Instant.parse(utc));
        return this;
    }

    MadeRun firmware(String version) {
        firmware = Optional.of(version);
        return this;
    }

    MadeRun with(Aspect aspect, String value) {
        setUp.put(aspect, value);
        return this;
    }

    ComparedRun made() {
        List<MadeShift> shifts = new ArrayList<>();
        double[][] last = new double[2][sprockets + 1];
        for (double[] side : last) {
            for (int k = 0; k < side.length; k++) {
                side[k] = random.nextGaussian();
            }
        }
        for (int cycle = 1; cycle <= cycles; cycle++) {
            for (int k = 1; k < sprockets; k++) {
                shifts.add(shift(k, k + 1, cycle, last[0]));
            }
            for (int k = sprockets; k > 1; k--) {
                shifts.add(shift(k, k - 1, cycle, last[1]));
            }
        }
        SourceIdentity source = new SourceIdentity("record", name, Long.toHexString(random.nextLong()));
        return new ComparedRun(
                name,
                firmware,
                began,
                setUp,
                Optional.empty(),
                new Measurement(source, Optional.empty(), new NoTrack(), MadeShift.table(shifts), List.of()));
    }

    private MadeShift shift(int from, int to, int cycle, double[] last) {
        last[to] = following * last[to] + Math.sqrt(1 - following * following) * random.nextGaussian();
        boolean one = from == 4 && to == 5;
        double overtravel = 200 + (one ? movedOvertravel : 0) + 3 * random.nextGaussian();
        boolean came = !one || random.nextDouble() < cameIn;
        return MadeShift.shift(from, to)
                .cycle(cycle)
                .with(Measure.LANDING, 700 * to + offset + movedLandings + landingSd * last[to])
                .with(Measure.OVERTRAVEL, came ? overtravel : 0);
    }

    /** Made shifts have no samples behind them. */
    private static final class NoTrack implements AngleTrack {
        @Override
        public AngleReader open() {
            throw new UnsupportedOperationException("made shifts have no samples");
        }

        @Override
        public AngleReader open(double fromS) {
            return open();
        }

        @Override
        public Correction correction() {
            throw new UnsupportedOperationException("made shifts have no samples");
        }

        @Override
        public SampleSource.Channels channels() {
            return new SampleSource.Channels(false, false, false, false);
        }

        @Override
        public double intervalS() {
            return 1 / 512.0;
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
}
