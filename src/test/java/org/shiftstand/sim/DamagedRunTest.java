package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftOptions;
import org.shiftstand.shift.ShiftTable;

/** A sound unit seen through much damage: whatever is said of it is right, and what is not known is not said. */
class DamagedRunTest {
    private static final int SWEEPS = 6;
    /** Alignment by the median of sprockets may differ by what the unit's own landings scatter. */
    private static final double ALIGNMENT_DEG = 40;

    @ParameterizedTest
    @CsvSource({
        "'seed=7,fault=lost-frames,rate=0.1', 60",
        "'seed=8,fault=lost-frames,rate=0.1', 60",
        "'seed=7,fault=sensor-dropout,rate=0.1', 60",
        "'seed=9,fault=sensor-dropout,rate=0.1', 60",
        "'seed=7,fault=lost-frames,rate=0.3', 20",
        "'seed=3,fault=lost-frames,rate=0.3', 20",
        "'seed=11,fault=lost-frames,rate=0.2', 40",
        "'seed=12,fault=lost-frames,rate=0.2', 40",
        "'seed=13,fault=sensor-dropout,rate=0.2', 40",
        "'seed=14,fault=lost-frames,rate=0.4', 10",
        "'seed=5,fault=sensor-dropout,rate=0.3', 20"
    })
    void no_number_and_no_outcome_is_wrong(String options, int atLeastLanded) {
        SimulatedLink link = new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options));
        Session session =
                new Session(link).armed(512, 64).walk(-1, 1).sweeps(10, SWEEPS); // one request of homing first
        List<int[]> script = new ArrayList<>(List.of(new int[] {2, 1, 0}));
        script.addAll(SimulatedCapture.sweeps(10, SWEEPS));

        ShiftTable table = ShiftFinder.find(
                HallDecoder.decode(SimulatedCapture.of(session, script), DecodeOptions.fromCapture()),
                Optional.of(TarnDrive.profile()),
                ShiftOptions.defaults().withStallCurrentA(3));

        List<ShiftTruth> truth = link.truth().shifts();
        truth = truth.subList(1, truth.size());
        assertThat(table.shifts()).hasSameSizeAs(truth);
        for (int i = 0; i < truth.size(); i++) {
            Shift shift = table.shifts().get(i);
            ShiftTruth actual = truth.get(i);
            String which = options + ": shift " + shift.number() + " " + shift.notes();
            assertThat(shift.outcome()).as(which).isIn(Outcome.LANDED, Outcome.UNKNOWN);
            assertThat(shift.displaced()).as(which).isFalse();
            if (shift.outcome() == Outcome.UNKNOWN) {
                assertThat(shift.evidence()).as(which).isNotEqualTo(Evidence.COMPLETE);
            }
            near(which, shift, Measure.START, actual.startDeg());
            near(which, shift, Measure.LANDING, actual.landingDeg().orElse(Double.NaN));
        }
        assertThat(table.shifts().stream().filter(s -> s.outcome() == Outcome.LANDED))
                .as(options + " " + table.notices())
                .hasSizeGreaterThan(atLeastLanded);
    }

    private static void near(String which, Shift shift, Measure measure, double truth) {
        shift.get(measure)
                .number()
                .ifPresent(deg -> assertThat(deg).as(which).isBetween(truth - ALIGNMENT_DEG, truth + ALIGNMENT_DEG));
    }
}
