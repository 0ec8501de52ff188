package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.shiftstand.link.LinkException;
import org.shiftstand.link.SerialLink;
import org.shiftstand.procedure.Action;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SupplyChange;

/** The runner over a real pseudo-terminal, in real time. */
@EnabledOnOs(OS.LINUX)
@Timeout(60)
class SerialRunTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    private final MemoryWriter record = new MemoryWriter();

    @Test
    void one_flipped_byte_in_one_frame_is_exactly_one_gap_of_one_block() throws IOException {
        try (var rig = rig("seed=7,flip-byte-at=1.5")) {
            RunEnd end = run(rig, new Action.Pause(1), new Action.RequestShift(1, 1, 2, "sweep-1", 0));

            assertThat(end).isEqualTo(new RunEnd.Completed());
            assertThat(record.gaps).hasSize(1);
            assertThat(record.gaps.get(0).samples()).isEqualTo(64);
            assertThat(record.gaps.get(0).cause()).isEqualTo("lost block");
            assertThat(record.counters).containsEntry("lost-blocks", 1L).containsEntry("lost-frames", 1L);
            assertThat(record.events("request")).hasSize(1);
            assertSupplyOff(rig);
        }
    }

    @Test
    void a_rig_that_is_unplugged_ends_the_run_within_a_second() throws IOException {
        try (var rig = rig("seed=7,unplug-at=2")) {
            long before = System.nanoTime();

            RunEnd end = run(rig, new Action.Pause(20));

            assertThat(end).isInstanceOf(RunEnd.LinkLost.class);
            assertThat((System.nanoTime() - before) / 1e9).isBetween(1.0, 3.0);
            assertThat(record.end).startsWith("link lost: ");
            assertSupplyOff(rig);
        }
    }

    @Test
    void a_silent_line_has_no_rig() throws IOException {
        try (var rig = rig("silent=true")) {
            assertThatThrownBy(() -> run(rig, new Action.Pause(1)))
                    .isInstanceOf(LinkException.class)
                    .hasMessageContaining(": no answer to hello, 3 times within 2 s each.");
        }
    }

    private static PtyRig rig(String options) throws IOException {
        return new PtyRig(TARN, SimOptions.parse(options), Optional.empty());
    }

    private static void assertSupplyOff(PtyRig rig) {
        List<SupplyChange> log = rig.supplyLog();
        assertThat(log).hasSizeGreaterThan(1);
        assertThat(log.get(log.size() - 1).milliVolts()).isZero();
    }

    private RunEnd run(PtyRig rig, Action... actions) {
        var all = new java.util.ArrayList<Action>(List.of(new Action.SetSupply(8.2)));
        all.addAll(List.of(actions));
        var plan = Plans.of(
                all,
                new Procedure(
                        "serial",
                        1,
                        512,
                        List.of(),
                        new StopWhen(List.of(), OptionalDouble.empty(), OptionalDouble.empty()),
                        ""),
                Optional.of(TARN),
                RunPlan.SIMULATED_GUARDS,
                OptionalDouble.empty());
        try (var link = SerialLink.open(rig.path(), SerialLink.USUAL_SPEED)) {
            return RigRunner.run(link, plan, h -> record, RunMonitor.SILENT, () -> false);
        }
    }
}
