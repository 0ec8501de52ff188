package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.angle.Correction;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.ArraySource;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleBlock;
import org.shiftstand.capture.SampleReader;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.quantity.Direction;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Measured;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftOptions;
import org.shiftstand.shift.ShiftTable;

/**
 * A clean simulated run, cut at any sample and joined with what came later, its clock moved: the shifts completed before the
 * cut are those of the run that ended there, to the digit. Hall pairs tell angles modulo a turn only, so that whatever whole
 * turns lie between the parts are in it. Measured with one stored correction, since a fit takes in all there is.
 */
class CutAndJoinedRunTest {
    private static final int HOMING = 4;
    private static final int CUTS = 25;

    /** Moved by the offset that lays a whole run over its profile, which later landings change. */
    private static final Set<Measure> IN_THE_FRAME = EnumSet.of(
            Measure.START, Measure.PLATEAU, Measure.LANDING, Measure.LANDING_ERROR, Measure.EXTREME, Measure.CREEP);

    private static final double ROUNDING_DEG = 1e-9;

    private record Run(
            double[] timeS,
            double[] sin,
            double[] cos,
            double[] amps,
            boolean[] on,
            double intervalS,
            List<Request> asked) {
        /** @param from first sample taken; @param to first one left out */
        Run part(int from, int to) {
            double fromS = from == 0 ? Double.NEGATIVE_INFINITY : timeS[from - 1];
            double toS = timeS[to - 1];
            return new Run(
                    Arrays.copyOfRange(timeS, from, to),
                    Arrays.copyOfRange(sin, from, to),
                    Arrays.copyOfRange(cos, from, to),
                    Arrays.copyOfRange(amps, from, to),
                    Arrays.copyOfRange(on, from, to),
                    intervalS,
                    asked.stream()
                            .filter(r -> r.timeS() > fromS && r.timeS() <= toS)
                            .toList());
        }

        Run later(double byS) {
            return new Run(
                    Arrays.stream(timeS).map(t -> t + byS).toArray(),
                    sin,
                    cos,
                    amps,
                    on,
                    intervalS,
                    asked.stream()
                            .map(r -> new Request(
                                    r.timeS() + byS,
                                    r.direction(),
                                    r.from(),
                                    r.to(),
                                    r.cycle(),
                                    r.step(),
                                    r.supplyV(),
                                    r.stamped()))
                            .toList());
        }

        Run and(Run next) {
            List<Request> both = new ArrayList<>(asked);
            both.addAll(next.asked);
            return new Run(
                    joined(timeS, next.timeS),
                    joined(sin, next.sin),
                    joined(cos, next.cos),
                    joined(amps, next.amps),
                    joined(on, next.on),
                    intervalS,
                    both);
        }

        ArraySource source() {
            return new ArraySource(timeS, sin, cos)
                    .interval(intervalS)
                    .powered(on)
                    .current(amps)
                    .requests(asked);
        }
    }

    private static double[] joined(double[] a, double[] b) {
        double[] both = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, both, a.length, b.length);
        return both;
    }

    private static boolean[] joined(boolean[] a, boolean[] b) {
        boolean[] both = Arrays.copyOf(a, a.length + b.length);
        System.arraycopy(b, 0, both, a.length, b.length);
        return both;
    }

    private static Run simulated(String options) {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        Session session = new Session(link).armed(512, 64);
        List<int[]> script = new ArrayList<>();
        for (int i = 0; i < HOMING; i++) {
            session.walk(-1, 1);
            script.add(new int[] {2, 1, 0});
        }
        session.sweeps(10, 2);
        script.addAll(SimulatedCapture.sweeps(10, 2));
        SampleSource source = SimulatedCapture.of(session, script);
        SampleBlock all = new SampleBlock(1 << 17);
        try (SampleReader reader = source.open()) {
            reader.next(all);
        }
        int n = all.size();
        return new Run(
                Arrays.copyOf(all.timeS, n),
                Arrays.copyOf(all.hallSin, n),
                Arrays.copyOf(all.hallCos, n),
                Arrays.copyOf(all.currentA, n),
                Arrays.copyOf(all.powered, n),
                source.intervalS(),
                source.requests().stream()
                        .map(r -> r.cycle().orElse(0) > 0 ? r : homing(r))
                        .toList());
    }

    private static Request homing(Request r) {
        return new Request(
                r.timeS(),
                Optional.of(Direction.OUTBOARD),
                OptionalInt.empty(),
                OptionalInt.empty(),
                OptionalInt.of(0),
                Optional.of("home"),
                r.supplyV(),
                true);
    }

    private static ShiftTable measured(SampleSource source, Correction stored) {
        return ShiftFinder.find(
                HallDecoder.decode(source, DecodeOptions.calibrated(stored)),
                Optional.of(TarnDrive.profile()),
                ShiftOptions.defaults().withStallCurrentA(3));
    }

    @ParameterizedTest
    @CsvSource({"seed=31, false", "seed=32, true", "'seed=33,gated=false', false", "'seed=34,gated=false', true"})
    void what_was_completed_before_the_cut_stays_as_it_was(String options, boolean madeAgain) {
        Run run = simulated(options);
        Correction stored =
                HallDecoder.decode(run.source(), DecodeOptions.fromCapture()).correction();
        Random random = new Random(options.hashCode());
        int seenBrokenOff = 0;
        for (int i = 0; i < CUTS; i++) {
            int cut = run.timeS.length / 10 + random.nextInt(run.timeS.length * 8 / 10);
            double awayS = random.nextInt(4) == 0 ? random.nextDouble() * 0.01 : 1 + random.nextDouble() * 5000;
            String which = options + (madeAgain ? " made again" : " gone on with") + ", cut " + i + " at sample " + cut
                    + ", away " + awayS + " s";
            Run before = run.part(0, cut);
            Run behind = madeAgain
                    ? run.later(run.timeS[cut - 1] + awayS - run.timeS[0])
                    : run.part(cut, run.timeS.length).later(awayS);
            ArraySource both = before.and(behind)
                    .source()
                    .breaks(List.of(new SampleSource.Break(run.timeS[cut - 1], behind.timeS[0], "cut")));

            ShiftTable alone = measured(before.source(), stored);
            ShiftTable joined = measured(both, stored);

            assertThat(joined.resumptions()).as(which).hasSize(1);
            seenBrokenOff += joined.resumptions().get(0).brokenOff().isPresent() ? 1 : 0;
            same(which, alone, joined, madeAgain);
        }
        assertThat(seenBrokenOff).as(options).isBetween(CUTS / 4, CUTS); // else the cuts prove little
    }

    private static void same(String which, ShiftTable alone, ShiftTable joined, boolean madeAgain) {
        int before = joined.resumptions().get(0).shiftsBefore();
        assertThat(alone.shifts()).as(which).hasSize(before);
        double offset = joined.alignmentDeg().orElse(0) - alone.alignmentDeg().orElse(0);
        for (int k = 0; k < before; k++) {
            Shift a = alone.shifts().get(k);
            Shift b = joined.shifts().get(k);
            String shift = which + ", shift " + a.number() + ", ended alone " + a.evidence() + " " + a.notes();
            assertThat(joined.brokenOff(b)).as(shift).isEqualTo(a.evidence() == Evidence.PARTIAL);
            if (a.evidence() == Evidence.COMPLETE) {
                assertThat(b.from() + ">" + b.to() + " " + b.cycle() + b.outcome() + b.evidence() + b.displaced())
                        .as(shift)
                        .isEqualTo(
                                a.from() + ">" + a.to() + " " + a.cycle() + a.outcome() + a.evidence() + a.displaced());
                assertThat(b.notes()).as(shift).isEqualTo(a.notes());
                for (Measure m : Measure.values()) {
                    same(shift, m, a.get(m), b.get(m), offset);
                }
            }
        }
        if (madeAgain) {
            assertThat(joined.resumptions().get(0).turns()).as(which).isPresent();
            assertThat(joined.shifts().subList(before, joined.shifts().size()))
                    .as(which)
                    .hasSize(36)
                    .allMatch(s -> s.outcome().word().equals("landed") && !s.displaced());
        }
    }

    private static void same(String shift, Measure m, Measured a, Measured b, double offsetDeg) {
        if (a.number().isPresent() && (IN_THE_FRAME.contains(m) || m == Measure.CLEARANCE)) {
            double offset = m == Measure.CREEP ? 0 : offsetDeg;
            double moved = b.number().orElseThrow() - a.number().getAsDouble();
            assertThat(m == Measure.CLEARANCE ? Math.abs(moved) : moved)
                    .as(shift + ", " + m.key())
                    .isCloseTo(m == Measure.CLEARANCE ? Math.abs(offset) : offset, within(ROUNDING_DEG));
        } else {
            assertThat(b).as(shift + ", " + m.key()).isEqualTo(a);
        }
    }
}
