package org.shiftstand.judge;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.shiftstand.document.Bundled;
import org.shiftstand.document.Bundled.Kind;
import org.shiftstand.document.Problem;
import org.shiftstand.document.TextFile;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.ProcedureReader;
import org.shiftstand.procedure.Script;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.spec.PlannedShift;
import org.shiftstand.spec.Spec;
import org.shiftstand.spec.SpecLint;
import org.shiftstand.spec.SpecReader;

class PlanTest {
    private static final Profile TARN = ProfileReader.find("tarn-drive");

    @Test
    void a_planned_shift_carries_the_supply_set_before_it() {
        List<PlannedShift> plan = Plan.of(List.of(
                new Action.SetSupply(8.2),
                new Action.Home(),
                new Action.RequestShift(1, 1, 2, "sweep-3", 0.35),
                new Action.SetSupply(7),
                new Action.Pause(1),
                new Action.RequestShift(2, 2, 1, "sweep-5", 0.35)));

        assertThat(plan)
                .containsExactly(
                        new PlannedShift(1, 1, 2, Optional.of("sweep-3"), OptionalDouble.of(8.2)),
                        new PlannedShift(2, 2, 1, Optional.of("sweep-5"), OptionalDouble.of(7)));
    }

    @Test
    void a_capture_without_a_procedure_should_show_each_pair_both_ways_in_no_known_cycle() {
        List<PlannedShift> plan = Plan.ofProfile(TARN);

        assertThat(plan).hasSize(18).allSatisfy(shift -> {
            assertThat(shift.cycle()).isZero();
            assertThat(Math.abs(shift.to() - shift.from())).isEqualTo(1);
        });
        assertThat(plan.get(0).to()).isEqualTo(2);
        assertThat(plan.get(17).to()).isEqualTo(1);
    }

    @Nested
    class The_packed_files {
        private List<Problem> lint(String specName, String procedure) {
            TextFile file = Bundled.find(specName, Kind.SPEC);
            Spec spec = SpecReader.read(file);
            Optional<Profile> profile = SpecReader.profileOf(file, spec).map(ProfileReader::read);
            var plan = Plan.of(Script.layOut(ProcedureReader.find(procedure), TARN));
            return SpecLint.lint(specName, spec, profile, Optional.of(plan));
        }

        @Test
        void end_of_line_and_the_long_run_supply_every_clause_and_no_bound_shuts_out_the_nominal() {
            assertThat(lint("tarn-drive-end-of-line", "end-of-line")).isEmpty();
            assertThat(lint("tarn-drive-end-of-line", "long-run")).isEmpty();
            assertThat(lint("passive-capture", "quick-look")).isEmpty();
        }

        @Test
        void a_quick_look_does_not_supply_a_spread() {
            assertThat(lint("tarn-drive-end-of-line", "quick-look").stream().map(Problem::toString))
                    .first()
                    .isEqualTo(
                            "tarn-drive-end-of-line:18: clause landing-spread: needs 20 shifts in each group, but the"
                                    + " procedure gives 6 shifts to sprocket 1 outboard, and too few to 17 further groups: it can"
                                    + " only end without a verdict. Expected more cycles in the procedure, or less in 'needs'");
        }

        @Test
        void the_end_of_line_procedure_is_as_long_as_its_remark_says() {
            assertThat(Script.summary(ProcedureReader.find("end-of-line"), TARN))
                    .hasToString("432 shifts in 24 cycles, about 19 min");
            assertThat(Script.summary(ProcedureReader.find("long-run"), TARN))
                    .hasToString("2736 shifts in 152 cycles, about 2.0 h");
        }
    }
}
