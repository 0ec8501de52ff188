package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftOptions;
import org.shiftstand.shift.ShiftTable;

/**
 * The measuring chain, from samples to the shift table, against the noise-free truth of a unit with noise, third harmonic,
 * wake-up errors and sensor gating, at 512 Hz: a sound one, and one with each fault. Tolerances are the promised accuracy.
 */
class MeasuringChainTest {
    private static final int SWEEPS = 6;
    private static final double PROMISED_BIAS_DEG = 0.1;
    private static final double PROMISED_SD_DEG = 0.15;
    private static final double PROMISED_HOLD_SD_S = 0.0005;
    private static final double PROMISED_TIME_BIAS_S = 0.0006;
    private static final double PROMISED_TIME_SD_S = 0.0008;
    private static final double PROMISED_RINGING_DEG = 1.5;

    private final Map<Measure, List<Double>> errors = new EnumMap<>(Measure.class);

    @ParameterizedTest
    @ValueSource(
            strings = {
                "seed=1",
                "seed=2",
                "seed=3,gated=false",
                "seed=4,fault=spread",
                "seed=5,fault=bias,pair=6-5",
                "seed=6,fault=overtravel-short",
                "seed=7,fault=overtravel-long,direction=outboard",
                "seed=8,fault=overtravel-missing,rate=0.3",
                "seed=9,fault=short-hold",
                "seed=10,fault=slow",
                "seed=11,fault=ringing",
                "seed=12,fault=limit-close",
                "seed=13,fault=missed,pair=9-10,from-cycle=3,to-cycle=3",
                "seed=14,fault=double,pair=9-8,from-cycle=3,to-cycle=3",
                "seed=15,fault=drift,amount=500",
                "seed=16,fault=sensor-dropout,pair=4-5,from-cycle=3,to-cycle=4",
                "seed=17,fault=lost-frames,pair=4-5,from-cycle=3,to-cycle=3",
                "seed=18,fault=jam,pair=9-10,from-cycle=3,to-cycle=3",
                "seed=19,fault=creep"
            })
    void every_shift_is_measured_as_it_was(String options) {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        Session session =
                new Session(link).armed(512, 64).walk(-1, 1).sweeps(10, SWEEPS); // one request of homing first
        List<int[]> script = new ArrayList<>(List.of(new int[] {2, 1, 0}));
        script.addAll(SimulatedCapture.sweeps(10, SWEEPS));

        ShiftTable table = measured(session, script);

        List<ShiftTruth> truth = link.truth().shifts();
        truth = truth.subList(1, truth.size());
        double originS = link.truth().firstSampleMicros() * 1e-6;
        assertThat(table.turnLostFrom()).isEmpty();
        assertThat(table.shifts()).hasSameSizeAs(truth);
        for (int i = 0; i < truth.size(); i++) {
            compare(truth.get(i), table.shifts().get(i), script.get(i + 1), originS);
        }
        check();
    }

    private static ShiftTable measured(Session session, List<int[]> script) {
        var track = HallDecoder.decode(SimulatedCapture.of(session, script), DecodeOptions.fromCapture());
        return ShiftFinder.find(
                track, Optional.of(TarnDrive.profile()), ShiftOptions.defaults().withStallCurrentA(3));
    }

    private void compare(ShiftTruth truth, Shift shift, int[] asked, double originS) {
        String which = "shift " + shift.number() + ", " + shift.from() + " to " + shift.to() + " " + shift.notes();
        assertThat(shift.from()).as(which).isEqualTo(asked[0]);
        assertThat(shift.to()).as(which).isEqualTo(asked[1]);
        assertThat(shift.cycle()).as(which).isEqualTo(asked[2]);
        assertThat(shift.evidence().word()).as(which).isEqualTo(truth.evidence());
        assertThat(shift.displaced()).as(which).isEqualTo(truth.from() != asked[0]);
        if (!truth.evidence().equals("complete")) {
            assertThat(shift.outcome().word()).as(which).isEqualTo("unknown");
            assertThat(shift.get(Measure.LANDING).number()).as(which).isEmpty();
            return;
        }
        if (!shift.displaced()) { // of a displaced one the unit and the script mean different sprockets
            assertThat(shift.outcome().word()).as(which).isEqualTo(truth.outcome());
        }
        add(which, Measure.START, shift, OptionalDouble.of(truth.startDeg()), 0);
        add(which, Measure.LANDING, shift, truth.landingDeg(), 0);
        if (truth.motionStartS().isEmpty()) {
            return; // nothing moved: there is nothing else to compare
        }
        add(which, Measure.REQUEST, shift, OptionalDouble.of(truth.requestS()), originS);
        add(which, Measure.MOTION_START, shift, truth.motionStartS(), originS);
        add(which, Measure.PLATEAU, shift, truth.plateauDeg(), 0);
        add(which, Measure.OVERTRAVEL, shift, truth.overtravelDeg(), 0);
        add(which, Measure.RINGING, shift, truth.ringingDeg(), 0);
        add(which, Measure.RETURN_RINGING, shift, truth.returnRingingDeg(), 0);
        add(which, Measure.HOLD, shift, truth.holdS(), 0);
        add(which, Measure.REST_HOLD, shift, truth.restHoldS(), 0);
        add(which, Measure.TRAVEL_TIME, shift, truth.travelTimeS(), 0);
        add(which, Measure.SETTLED, shift, truth.settledS(), originS);
        add(which, Measure.SETTLE_TIME, shift, truth.settleTimeS(), 0);
        if (shift.get(Measure.CREEP).number().isPresent()) {
            add(which, Measure.CREEP, shift, truth.creepDeg(), 0);
        }
    }

    private void add(String which, Measure measure, Shift shift, OptionalDouble truth, double origin) {
        OptionalDouble number = shift.get(measure).number();
        assertThat(number.isPresent())
                .as("%s: %s is %s, truth %s", which, measure.key(), shift.get(measure), truth)
                .isEqualTo(truth.isPresent());
        if (truth.isPresent()) {
            errors.computeIfAbsent(measure, m -> new ArrayList<>())
                    .add(number.getAsDouble() - (truth.getAsDouble() - origin));
        }
    }

    private void check() {
        assertThat(errors.get(Measure.LANDING)).hasSizeGreaterThan(100);
        // samples fix angles up to one offset of the whole run
        double offset = mean(Measure.LANDING);
        promised(Measure.LANDING, offset, 1e-9, PROMISED_SD_DEG);
        promised(Measure.PLATEAU, offset, PROMISED_BIAS_DEG, PROMISED_SD_DEG);
        promised(Measure.START, offset, PROMISED_BIAS_DEG, PROMISED_SD_DEG);
        promised(Measure.OVERTRAVEL, 0, PROMISED_BIAS_DEG, PROMISED_SD_DEG);
        promised(Measure.CREEP, 0, PROMISED_BIAS_DEG, PROMISED_SD_DEG);
        promised(Measure.HOLD, 0, PROMISED_TIME_BIAS_S, PROMISED_HOLD_SD_S);
        promised(Measure.REST_HOLD, 0, PROMISED_TIME_BIAS_S, PROMISED_HOLD_SD_S);
        promised(Measure.REQUEST, 0, 2e-6, 2e-6); // stamped: the microsecond of the clock
        promised(Measure.MOTION_START, 0, PROMISED_TIME_BIAS_S, PROMISED_TIME_SD_S);
        promised(Measure.TRAVEL_TIME, 0, PROMISED_TIME_BIAS_S, PROMISED_TIME_SD_S);
        promised(Measure.SETTLED, 0, PROMISED_TIME_BIAS_S, PROMISED_TIME_SD_S);
        promised(Measure.SETTLE_TIME, 0, PROMISED_TIME_BIAS_S, PROMISED_TIME_SD_S);
        for (Measure m : List.of(Measure.RINGING, Measure.RETURN_RINGING)) {
            assertThat(errors.getOrDefault(m, List.of()))
                    .as(m.key())
                    .allMatch(e -> Math.abs(e) <= PROMISED_RINGING_DEG);
        }
    }

    private double mean(Measure measure) {
        return errors.getOrDefault(measure, List.of()).stream()
                .mapToDouble(e -> e)
                .average()
                .orElse(0);
    }

    private void promised(Measure measure, double expected, double bias, double sd) {
        List<Double> of = errors.getOrDefault(measure, List.of());
        if (of.size() < 2) {
            return;
        }
        double mean = mean(measure);
        double squares = of.stream().mapToDouble(e -> (e - mean) * (e - mean)).sum();
        assertThat(mean).as("bias of %s", measure.key()).isCloseTo(expected, within(bias));
        assertThat(Math.sqrt(squares / (of.size() - 1)))
                .as("sd of %s, n=%d", measure.key(), of.size())
                .isLessThanOrEqualTo(sd);
    }
}
