package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.angle.DecodeOptions;
import org.shiftstand.angle.HallDecoder;
import org.shiftstand.capture.ArraySource;
import org.shiftstand.link.HostMessage;
import org.shiftstand.link.RigMessage.Event;
import org.shiftstand.shift.Evidence;
import org.shiftstand.shift.Measure;
import org.shiftstand.shift.Outcome;
import org.shiftstand.shift.Shift;
import org.shiftstand.shift.ShiftFinder;
import org.shiftstand.shift.ShiftOptions;
import org.shiftstand.shift.ShiftTable;

/** The supply is taken away on purpose while the unit rests, and given again: no break, no shift harmed. */
class SupplyOffBetweenShiftsTest {
    private static ShiftTable measured(String options) {
        Session session = new Session(new SimulatedLink(TarnDrive.profile(), SimOptions.parse(options)))
                .armed(512, 64)
                .walk(-1, 1);
        List<int[]> script = new ArrayList<>(List.of(new int[] {2, 1, 0}));
        for (int cycle = 1; cycle <= 2; cycle++) {
            session.walk(1, 5);
            off(session);
            session.walk(-1, 5);
            off(session);
            for (int k = 1; k <= 5; k++) {
                script.add(new int[] {k, k + 1, cycle});
            }
            for (int k = 6; k > 1; k--) {
                script.add(new int[] {k, k - 1, cycle});
            }
        }
        ArraySource source = (ArraySource) SimulatedCapture.of(session, script);
        double origin = session.blocks().get(0).firstMicros() * 1e-6;
        List<Double> cuts = session.events(Event.Kind.SUPPLY_OFF).stream()
                .map(e -> e.atMicros() * 1e-6 - origin)
                .toList();
        assertThat(cuts).hasSizeGreaterThanOrEqualTo(4);
        source.supplyCuts(cuts);
        return ShiftFinder.find(
                HallDecoder.decode(source, DecodeOptions.fromCapture()),
                Optional.of(TarnDrive.profile()),
                ShiftOptions.defaults());
    }

    private static void off(Session session) {
        session.say(new HostMessage.Cut());
        session.listen(20);
        session.say(new HostMessage.Arm(8200));
        session.listen(0.5);
    }

    @ParameterizedTest
    @ValueSource(strings = {"seed=41", "seed=42", "seed=43,gated=false", "seed=44,gated=false"})
    void every_shift_is_landed_complete_and_where_it_is_nominal(String options) {
        ShiftTable table = measured(options);

        assertThat(table.shifts()).hasSize(20);
        assertThat(table.shifts()).allMatch(s -> s.outcome() == Outcome.LANDED && s.evidence() == Evidence.COMPLETE);
        assertThat(table.shifts()).noneMatch(Shift::displaced);
        assertThat(table.resumptions()).isEmpty();
        assertThat(table.turnLostFrom()).isEmpty();
        for (Shift s : table.shifts()) {
            double nominal = TarnDrive.profile().positionDeg(s.to());
            assertThat(s.get(Measure.LANDING).number().orElseThrow())
                    .as("%s, shift %d", options, s.number())
                    .isCloseTo(nominal, within(70.0)); // spread of landings 12 deg, and their bias
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"seed=45", "seed=46,gated=false"})
    void movement_while_it_was_off_is_creep(String options) {
        for (Shift s : measured(options).shifts()) {
            assertThat(s.get(Measure.CREEP).number().orElseThrow())
                    .as("%s, shift %d", options, s.number())
                    .isCloseTo(0, within(2.0)); // this unit does not move by itself; noise and a wake-up error are left
        }
    }
}
