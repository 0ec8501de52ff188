package org.shiftstand.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.TextFile;
import org.shiftstand.quantity.Quantity;

class RigDescriptionReaderTest {
    private static String problems(String text) {
        BadInput thrown =
                catchThrowableOfType(BadInput.class, () -> RigDescriptionReader.read(TextFile.of("x.rig.yaml", text)));
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    @Test
    void the_example() {
        RigDescription rig =
                RigDescriptionReader.find(Path.of("rig", "bench-two.rig.yaml").toString());

        assertThat(rig.name()).isEqualTo("bench-two");
        assertThat(rig.port()).isEqualTo("/dev/ttyACM0");
        assertThat(rig.speed()).isEqualTo(921_600);
        assertThat(rig.drive()).isEqualTo("requests");
        assertThat(rig.hall()).isEqualTo(new RigDescription.Hall(0, 4095, 1));
        assertThat(rig.currentScaleA()).hasValue(0.0012);
        assertThat(rig.guards())
                .isEqualTo(new RigDescription.Guards(
                        9,
                        0.02,
                        2,
                        2,
                        3000,
                        60,
                        6,
                        8.6,
                        OptionalDouble.of(0.4),
                        OptionalDouble.of(8 * 3600),
                        OptionalInt.of(20_000)));
        assertThat(rig.calibrations())
                .isEqualTo(List.of(new RigDescription.Calibration(
                        "current", LocalDate.of(2026, 9, 14), Quantity.parse("0.02 A"))));
    }

    @ParameterizedTest
    @CsvSource({"1, 1", "2, 2", "64, 64", "0.5, 0.5", "0.25, 0.25", "0.333, 0.3333333333333333"})
    void turns_in_a_cycle_are_a_whole_number_or_one_over_one(String written, double meant) {
        RigDescription rig = RigDescriptionReader.read(withTurns(written));

        assertThat(rig.hall().turnsPerCycle()).isEqualTo(meant);
    }

    @ParameterizedTest
    @ValueSource(strings = {"0", "-1", "65", "1.5", "0.7", "0.001"})
    void other_turns_in_a_cycle_are_refused(String written) {
        assertThat(problems(withTurns(written).text()))
                .isEqualTo("x.rig.yaml:4:38: turns-per-cycle is " + written
                        + "; expected turns of the shaft in one electrical turn, a whole number from 1 to 64 or 1 over one:"
                        + " 0.5 for a magnet of two periods a turn");
    }

    private static TextFile withTurns(String written) {
        return TextFile.of("x.rig.yaml", """
                rig: bench
                drive: requests
                guards: { current: 9 A for 20 ms, average-current: 2 A over 2 s, on-time: 20 min/h, temperature: 60 degC }
                channels: { hall: { turns-per-cycle: %s } }
                """.formatted(written));
    }

    @Test
    void what_a_procedure_is_held_to_may_be_left_out() {
        RigDescription rig = RigDescriptionReader.read(TextFile.of("x.rig.yaml", """
                rig: bench
                drive: requests
                guards: { current: 9 A for 20 ms, average-current: 2 A over 2 s, on-time: 20 min/h, temperature: 60 degC }
                """));

        assertThat(rig.guards()).isEqualTo(new RigDescription.Guards(9, 0.02, 2, 2, 1200, 60, 0, 60));
    }

    @Test
    void guards_that_no_run_can_keep_or_break_are_refused() {
        assertThat(problems("""
                rig: bench
                drive: requests
                guards: { current: 9 A for 20 ms, average-current: 2 A over 2 s, on-time: 20 min/h, temperature: 60 degC,
                  duty: 140 %, total-on-time: 0 h, shifts: 2.5 }
                """)).isEqualTo("""
                x.rig.yaml:4:9: duty is 140 %; expected more than 0 %, up to 100 %
                x.rig.yaml:4:31: total-on-time is 0 h; expected a duration above 0
                x.rig.yaml:4:44: shifts is the number 2.5; expected a whole number from 1 to 1000000""");
    }

    @Test
    void everything_wrong_is_told_at_once_in_the_order_of_the_file() {
        assertThat(problems("""
                rig: bench
                link: { speed: 10 }
                drive: request
                channels: { hall: { range: 4095..0 }, current: { scale: 1.2 mA } }
                guards: { current: 9 A, average-current: 2 A for 2 s, on-time: 90 min/h, temperature: 60, supply: 9 V..6 V }
                calibrations:
                  - { what: currant, on: 2026-02-30, uncertainty: 0.02 A }
                  - { what: current, on: yesterday, uncertainty: 0.02 V }
                """)).isEqualTo("""
                x.rig.yaml:2:7: key 'port' is missing in link; expected a serial port such as /dev/ttyACM0
                x.rig.yaml:2:16: speed is the number 10; expected a whole number from 1200 to 12000000
                x.rig.yaml:3:8: unknown drive 'request'; expected one of requests, direct. Did you mean 'requests'?
                x.rig.yaml:4:28: range is '4095..0'; expected a range of counts such as 0..4095, the smaller first, within 16 bits
                x.rig.yaml:4:57: scale is '1.2 mA'; expected a current a count, such as '1.2 mA/count'
                x.rig.yaml:5:20: current is '9 A'; expected a current with its duration, such as '9 A for 20 ms': inrush at the start of motion is no fault
                x.rig.yaml:5:42: average-current is '2 A for 2 s'; expected a mean current with its duration, such as '2 A over 2 s'
                x.rig.yaml:5:64: on-time is 90 min in an hour; expected at most 60 min/h
                x.rig.yaml:5:87: temperature is the bare number 60; expected a temperature such as '60 degC'
                x.rig.yaml:5:99: supply runs backwards; expected the smaller end first
                x.rig.yaml:7:13: unknown calibration 'currant'; expected one of angle, current, supply, temperature, time. Did you mean 'current'?
                x.rig.yaml:7:26: on is '2026-02-30', a day that no calendar has; expected a date such as 2026-09-14
                x.rig.yaml:8:26: on is 'yesterday'; expected a date such as 2026-09-14
                x.rig.yaml:8:50: uncertainty is a voltage, '0.02 V'; expected a current such as '2.4 A'""");
    }
}
