package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.Request;
import org.shiftstand.capture.SampleSource.Gap;
import org.shiftstand.link.LinkException;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Procedure.StopWhen;
import org.shiftstand.procedure.Step;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunEvent;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.sim.ShiftTruth;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;
import org.shiftstand.sim.SupplyChange;

/** The runner and the simulated rig, byte for byte over the codec, into a real record. */
class SimulatedRunTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");

    @TempDir
    private Path folder;

    private StopWhen stopWhen = new StopWhen(List.of(), OptionalDouble.empty(), OptionalDouble.empty());
    private String file = "run.sqlite";
    private final List<String> notices = new ArrayList<>();
    private List<ShiftTruth> truth = List.of();
    private List<SupplyChange> supply = List.of();

    @Test
    void a_sweep_and_back_is_recorded_whole() {
        RunEnd end = sweep("seed=7", 1);

        assertThat(end).isEqualTo(new RunEnd.Completed());
        assertSupplyOff();
        assertThat(truth).noneMatch(t -> t.outcome().equals("interrupted"));
        try (RunRecord record = RunRecord.open(folder.resolve("run.sqlite"))) {
            List<Request> shifts = record.requests().stream()
                    .filter(r -> r.cycle().orElse(0) > 0)
                    .toList();
            assertThat(shifts).hasSize(18);
            assertThat(shifts.get(0).from()).hasValue(1);
            assertThat(shifts.get(8).to()).hasValue(10);
            assertThat(shifts).allMatch(r -> r.stamped() && r.supplyV().orElse(0) == 8.2);
            assertThat(record.gaps()).isEmpty();
            assertThat(record.end()).hasValue("");
            assertThat(record.events())
                    .extracting(RunEvent::kind)
                    .contains("hall-on", "hall-off", "home", "supply-off");
            assertThat(record.counters()).containsEntry("damaged-frames", 0L).containsEntry("lost-blocks", 0L);
        }
    }

    @Test
    void the_requests_are_those_that_the_unit_got_to_the_microsecond() {
        sweep("seed=7,gated=false", 1);

        try (RunRecord record = RunRecord.open(folder.resolve("run.sqlite"))) {
            List<Double> asked = record.events().stream()
                    .filter(e -> e.kind().equals("request"))
                    .map(e -> e.atMicros() / 1e6)
                    .toList();
            assertThat(asked).hasSize(truth.size());
            for (int i = 0; i < asked.size(); i++) {
                assertThat(asked.get(i)).isCloseTo(truth.get(i).requestS(), org.assertj.core.data.Offset.offset(1e-6));
            }
        }
    }

    @Test
    void slow_units_and_other_holds_are_never_interrupted_nor_taken_for_stalled() {
        stopWhen = new StopWhen(List.of("stalled"), OptionalDouble.empty(), OptionalDouble.empty());
        for (String fault : List.of("slow", "overtravel-long", "ringing", "short-hold", "creep", "double")) {
            file = fault + ".sqlite";
            RunEnd end = sweep("seed=3,fault=" + fault, 1);

            assertThat(end).as(fault).isEqualTo(new RunEnd.Completed());
            assertThat(truth).as(fault).noneMatch(t -> t.outcome().equals("interrupted"));
        }
    }

    @Nested
    class A_line_with_faults {
        @Test
        void that_flips_one_byte_costs_one_block_and_one_gap() {
            sweep("seed=7,flip-byte-at=12", 1);

            try (RunRecord record = RunRecord.open(folder.resolve("run.sqlite"))) {
                assertThat(record.gaps())
                        .singleElement()
                        .matches(g -> g.samples() == 64)
                        .extracting(Gap::cause)
                        .isEqualTo("lost block");
                assertThat(record.counters()).containsEntry("lost-blocks", 1L);
                assertThat(record.counters().get("damaged-frames")).isBetween(1L, 2L); // 2 where the byte became 0
            }
        }

        @Test
        void that_loses_blocks_in_each_shift_from_4_to_5_has_a_gap_in_each() {
            sweep("seed=7,fault=lost-frames,pair=4-5", 2);

            try (RunRecord record = RunRecord.open(folder.resolve("run.sqlite"))) {
                assertThat(record.gaps()).hasSize(2).allMatch(g -> g.samples() == 64);
            }
        }

        @Test
        void that_breaks_ends_the_run_and_leaves_a_record_that_says_so() {
            assertThat(sweep("seed=7,unplug-at=9", 1))
                    .isEqualTo(new RunEnd.LinkLost("the simulated line was unplugged"));

            try (RunRecord record = RunRecord.open(folder.resolve("run.sqlite"))) {
                assertThat(record.end()).hasValue("link lost: the simulated line was unplugged");
                assertThat(record.samples()).isGreaterThan(4000);
            }
            assertSupplyOff();
        }

        @Test
        void that_is_silent_has_no_rig() {
            assertThatThrownBy(() -> sweep("silent=true", 1))
                    .isInstanceOf(LinkException.class)
                    .hasMessageStartingWith("sim: no answer to hello, 3 times within 2 s each.");
        }

        @Test
        void that_leads_to_another_protocol_version_is_refused() {
            assertThatThrownBy(() -> sweep("protocol=2", 1))
                    .isInstanceOf(LinkException.class)
                    .hasMessageStartingWith("sim: the rig speaks protocol version 2, this program speaks 1.");
        }
    }

    @Nested
    class A_unit_in_trouble {
        @Test
        void that_jams_ends_the_run_as_stalled() {
            stopWhen = new StopWhen(List.of("stalled"), OptionalDouble.empty(), OptionalDouble.empty());

            RunEnd end = sweep("seed=7,fault=jam,pair=4-5,from-cycle=1", 1);

            assertThat(end.reason()).isEqualTo("stop-when: stalled: no motion with a current above 2.25 A for 0.3 s");
            assertSupplyOff();
        }

        @Test
        void whose_emergency_stop_is_pressed_is_cut_by_the_rig() {
            RunEnd end = sweep("seed=7,estop-at=10", 1);

            assertThat(end).isEqualTo(new RunEnd.RigFault("emergency stop"));
            assertSupplyOff();
            assertThat(notices).isEmpty();
            try (RunRecord record = RunRecord.open(folder.resolve("run.sqlite"))) {
                assertThat(record.events())
                        .extracting(RunEvent::kind)
                        .containsSubsequence("emergency-stop", "supply-off");
                assertThat(record.end()).hasValue("rig: emergency stop");
            }
        }

        @Test
        void whose_emergency_stop_is_held_from_the_start_never_moves() {
            RunEnd end = sweep("seed=7,estop-at=0", 1);

            assertThat(end).isInstanceOf(RunEnd.RigFault.class);
            assertThat(end.reason()).contains("emergency stop");
            assertThat(truth).allMatch(t -> t.motionStartS().isEmpty());
            assertThat(supply).isEmpty(); // it never went on
        }

        @Test
        void that_draws_too_much_is_cut_by_the_rig_first() {
            var guards = new org.shiftstand.bench.RigDescription.Guards(0.5, 0.02, 0, 0, 0, 0, 4, 9);

            RunEnd end = run("seed=7", 1, guards, RunMonitor.SILENT);

            assertThat(end.reason()).startsWith("rig: over-current, ");
            assertSupplyOff();
        }
    }

    @Test
    void a_program_that_hangs_is_cut_off_by_the_watchdog() {
        var link = new SimulatedLink(TARN, SimOptions.seeded(7));
        boolean[] hung = new boolean[1];
        RunMonitor slow = new RunMonitor() {
            @Override
            public void progress(Progress p) {
                for (int i = 0; p.shifts() == 2 && !hung[0] && i < 200; i++) {
                    link.receive(link.now() + 20_000); // time passes, nothing is said
                    hung[0] = i == 199;
                }
            }
        };

        RunEnd end = RigRunner.run(link, plan(1, RunPlan.SIMULATED_GUARDS), this::writer, slow, () -> false);

        assertThat(end).isInstanceOf(RunEnd.RigFault.class);
        assertThat(link.supplyLog()).extracting(SupplyChange::cause).contains("watchdog");
    }

    private RunEnd sweep(String options, int times) {
        return run(options, times, RunPlan.SIMULATED_GUARDS, new RunMonitor() {
            @Override
            public void notice(String text) {
                notices.add(text);
            }
        });
    }

    private RunEnd run(
            String options, int times, org.shiftstand.bench.RigDescription.Guards guards, RunMonitor monitor) {
        try (var link = new SimulatedLink(TARN, SimOptions.parse(options))) {
            try {
                return RigRunner.run(link, plan(times, guards), this::writer, monitor, () -> false);
            } finally {
                truth = link.truth().shifts();
                supply = List.copyOf(link.supplyLog());
            }
        }
    }

    private org.shiftstand.record.RunWriter writer(org.shiftstand.record.RunHeader header) {
        return SqliteRunWriter.create(folder.resolve(file), header);
    }

    private RunPlan plan(int times, org.shiftstand.bench.RigDescription.Guards guards) {
        var procedure = new Procedure(
                "sweeps",
                1,
                512,
                List.of(
                        new Step.Supply(8.2),
                        new Step.Home(),
                        new Step.Sweep(1, java.util.OptionalInt.empty(), true, times, 0.35)),
                stopWhen,
                "");
        return Plans.of(procedure, TARN, guards);
    }

    private void assertSupplyOff() {
        assertThat(supply).isNotEmpty();
        assertThat(supply.get(supply.size() - 1).milliVolts()).isZero();
    }
}
