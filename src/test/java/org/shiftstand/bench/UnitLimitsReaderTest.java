package org.shiftstand.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.shiftstand.bench.UnitLimits.Method;
import org.shiftstand.bench.UnitLimits.Side;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;

class UnitLimitsReaderTest {
    private static UnitLimits read(String text) {
        return UnitLimitsReader.read(TextFile.of("x.limits.yaml", text));
    }

    private static String problems(String text) {
        BadInput thrown = catchThrowableOfType(BadInput.class, () -> read(text));
        return thrown == null ? "" : String.valueOf(thrown.getMessage());
    }

    @Test
    void limits_that_a_rig_probed() {
        UnitLimits limits = UnitLimitsReader.read(
                Bundled.find("src/test/resources/schema/probed.limits.yaml", Bundled.Kind.LIMITS));

        assertThat(limits.unit()).isEqualTo("TD-0107");
        assertThat(limits.on()).isEqualTo(LocalDate.of(2026, 9, 14));
        assertThat(limits.method()).isEqualTo(Method.PROBED);
        assertThat(limits.outboard()).isEqualTo(new Side(-519.88, OptionalDouble.of(0.06)));
        assertThat(limits.inboard()).isEqualTo(new Side(7100.13, OptionalDouble.of(0.05)));
        assertThat(limits.sentence())
                .isEqualTo(
                        "unit TD-0107's own mechanical limits, probed by driving on 2026-09-14 by station 2 on rig"
                                + " bench-two: outboard -519.88 deg (spread 0.06 deg), inboard 7100.13 deg (spread 0.05 deg);"
                                + " origin: the unit stood on sprocket 1, taken to be at 0 deg of profile tarn-drive version 2");
    }

    @Test
    void limits_by_hand_may_be_in_turns_and_need_no_spread() {
        UnitLimits limits = UnitLimitsReader.read(
                Bundled.find("src/test/resources/schema/by-hand.limits.yaml", Bundled.Kind.LIMITS));

        assertThat(limits.by()).contains("station 2");
        assertThat(limits.inboard()).isEqualTo(new Side(7020, OptionalDouble.empty()));
    }

    @Test
    void what_is_written_reads_back_the_same_whatever_its_texts_hold() {
        UnitLimits written = new UnitLimits(
                "TD-0107",
                LocalDate.of(2026, 9, 14),
                Method.PROBED,
                Optional.of("bench \"two\": # \\ \u00e9 \u0007 on"),
                new Side(-519.884, OptionalDouble.of(0)),
                new Side(7100.1, OptionalDouble.of(1.25)),
                Optional.of("~"),
                Optional.of("true"),
                "");

        UnitLimits back = read(written.toYaml());

        assertThat(back)
                .isEqualTo(new UnitLimits(
                        written.unit(),
                        written.on(),
                        written.method(),
                        written.by(),
                        written.outboard(),
                        written.inboard(),
                        written.origin(),
                        written.rig(),
                        back.sha256()));
    }

    @Test
    void everything_wrong_is_told_at_once() {
        assertThat(problems("""
                unit: TD 0107
                on: 2026-02-30
                method: by hand
                outbord: { at: -515 deg }
                inboard: { at: 7080, spread: -1 deg }
                """)).isEqualTo("""
                x.limits.yaml:1:1: key 'outboard' is missing in a limits file; expected where the outboard limit is, such as { at: -515 deg, spread: 0.8 deg }
                x.limits.yaml:1:7: the name 'TD 0107' cannot be used; expected 1 to 64 of A-Z a-z 0-9 . _ -
                x.limits.yaml:2:5: on is '2026-02-30', a day that no calendar has; expected a date such as 2026-09-14
                x.limits.yaml:3:9: unknown method 'by hand'; expected one of probed by driving, measured by hand.
                x.limits.yaml:4:1: unknown key 'outbord' in a limits file; expected one of unit, on, method, by, outboard, inboard, origin, rig. Did you mean 'outboard'?
                x.limits.yaml:5:16: at is the bare number 7080; expected an angle such as '18 deg'
                x.limits.yaml:5:30: spread is -1 deg, out of bounds; expected 0 deg or more""");
    }

    @Test
    void each_method_needs_what_makes_it_worth_something() {
        assertThat(problems("""
                unit: TD-0107
                on: 2026-09-14
                method: probed by driving
                outboard: { at: -515 deg }
                inboard: { at: 7080 deg, spread: 1 deg }
                """))
                .contains("key 'origin' is missing", "key 'rig' is missing", "key 'spread' is missing in outboard")
                .doesNotContain("'by'", "in inboard");
        assertThat(problems("""
                unit: TD-0107
                on: 2026-09-14
                method: measured by hand
                outboard: { at: -515 deg }
                inboard: { at: 7080 deg }
                """))
                .isEqualTo("x.limits.yaml:1:1: key 'by' is missing in a limits file; expected who measured");
    }

    @Test
    void limits_the_wrong_way_round_are_refused() {
        assertThat(problems("""
                unit: TD-0107
                on: 2026-09-14
                method: measured by hand
                by: station 2
                outboard: { at: 7080 deg }
                inboard: { at: -515 deg }
                """))
                .contains("the inboard limit is not above the outboard one; expected angles positive inboard");
        assertThatThrownBy(() -> new UnitLimits(
                        "TD-0107",
                        LocalDate.EPOCH,
                        Method.BY_HAND,
                        Optional.empty(),
                        new Side(1, OptionalDouble.empty()),
                        new Side(1, OptionalDouble.empty()),
                        Optional.empty(),
                        Optional.empty(),
                        ""))
                .hasMessageEndingWith("outboardDeg=1.0, inboardDeg=1.0");
    }
}
