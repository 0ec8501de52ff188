package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.TextFile;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;

/** The procedures that are packed with the program fit the example unit, the example rig, and what they say of themselves. */
class BundledProceduresTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final RigDescription BENCH_TWO = RigDescriptionReader.find("rig/bench-two.rig.yaml");

    static List<String> procedures() {
        return Bundled.paths(Bundled.Kind.PROCEDURE);
    }

    private static List<String> problems(Procedure procedure, RigDescription.Guards guards) {
        return Preflight.problems(Script.layOut(procedure, TARN), procedure, TARN, guards, "profile tarn-drive");
    }

    @ParameterizedTest
    @MethodSource("procedures")
    void one_of_them_may_be_run_on_the_example_rig(String path) {
        Procedure procedure = ProcedureReader.find(path);

        if (path.endsWith("long-run.yaml")) { // two hours without a rest: for simulated units
            assertThat(problems(procedure, BENCH_TWO.guards())).hasSize(1);
        } else {
            assertThat(problems(procedure, BENCH_TWO.guards())).isEmpty();
        }
        assertThat(problems(procedure, RunPlan.SIMULATED_GUARDS)).isEmpty();
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "end-of-line; 432 shifts in 24 cycles, about 19 min",
                "firmware-change; 774 shifts in 43 cycles, about 34 min",
                "long-run; 2736 shifts in 152 cycles, about 2.0 h",
                "overnight; 7728 shifts in 328 cycles, about 8.1 h",
                "quick-look; 108 shifts in 6 cycles, about 5 min"
            })
    void they_come_to(String name, String summary) {
        assertThat(Script.summary(ProcedureReader.find(name), TARN)).hasToString(summary);
    }

    @Test
    void the_overnight_procedure_fits_a_guard_of_20_minutes_in_the_way_its_text_says() {
        String text = Bundled.find("overnight", Bundled.Kind.PROCEDURE)
                .text()
                .replace("times: 12", "times: 4")
                .replace("shifts: 240", "shifts: 70")
                .replace("rest: 16 min", "rest: 42 min");
        Procedure procedure = ProcedureReader.read(TextFile.of("overnight.yaml", text));
        RigDescription.Guards guards = new RigDescription.Guards(9, 0.02, 2, 2, 1200, 60, 6, 8.6);

        assertThat(problems(procedure, guards)).isEmpty();
        assertThat(Script.summary(procedure, TARN).shifts()).isBetween(2850, 2950);
    }

    @Test
    void the_reference_sweeps_of_the_night_are_always_at_one_supply() {
        double volts = 0;
        int references = 0;
        for (Action action : Script.layOut(ProcedureReader.find("overnight"), TARN)) {
            if (action instanceof Action.SetSupply supply) {
                volts = supply.volts();
            } else if (action instanceof Action.RequestShift shift
                    && shift.step().equals("reference")) {
                references++;
                assertThat(volts).isEqualTo(8.2);
            }
        }
        assertThat(references).isEqualTo(8 * 2 * 18);
    }
}
