package org.shiftstand.rig;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Path;
import java.util.List;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.procedure.Procedure;
import org.shiftstand.procedure.Step;
import org.shiftstand.profile.Profile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.record.RunRecord;
import org.shiftstand.record.SqliteRunWriter;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SimulatedLink;

/** Each kind of damage on the line, once in a run: counted under its name, and never a sample. */
class DamagedLineTest {
    private static final Profile TARN = ProfileReader.find("specs/tarn-drive.profile.yaml");
    private static final List<String> COUNTERS =
            List.of("damaged-frames", "late-frames", "lost-blocks", "lost-frames", "repeated-frames");

    @TempDir
    private Path folder;

    private RunRecord run(String options) {
        Path file = folder.resolve(options + ".run");
        try (var link = new SimulatedLink(TARN, SimOptions.parse(options))) {
            RunEnd end = RigRunner.run(
                    link, plan(), header -> SqliteRunWriter.create(file, header), RunMonitor.SILENT, () -> false);
            assertThat(end).isInstanceOf(RunEnd.Completed.class);
        }
        return RunRecord.open(file);
    }

    private static RunPlan plan() {
        var procedure = new Procedure(
                "short",
                1,
                512,
                List.of(new Step.Supply(8.2), new Step.Home(), new Step.Sweep(1, OptionalInt.of(3), true, 1, 0.35)),
                new Procedure.StopWhen(List.of(), OptionalDouble.empty(), OptionalDouble.empty()),
                "");
        return Plans.of(procedure, TARN);
    }

    /** Counters that are not 0. */
    private static String counted(RunRecord run) {
        StringBuilder text = new StringBuilder();
        for (String name : COUNTERS) {
            long n = run.counters().getOrDefault(name, 0L);
            text.append(n == 0 ? "" : name + " " + n + ", ");
        }
        return text.toString();
    }

    private static long missing(RunRecord run) {
        return run.gaps().stream().mapToLong(SampleSource.Gap::samples).sum();
    }

    private long soundSamples() {
        try (RunRecord run = run("seed=7")) {
            assertThat(counted(run)).isEmpty();
            assertThat(run.gaps()).isEmpty();
            return run.samples();
        }
    }

    @Test
    void a_corrupted_frame_is_a_damaged_one_and_a_lost_block() {
        long sound = soundSamples();
        try (RunRecord run = run("seed=7,flip-byte-at=1")) {
            assertThat(counted(run)).isEqualTo("damaged-frames 1, lost-blocks 1, lost-frames 1, ");
            assertThat(missing(run)).isEqualTo(64);
            assertThat(run.samples() + missing(run)).isEqualTo(sound);
        }
    }

    @Test
    void a_repeated_frame_is_counted_and_taken_once() {
        long sound = soundSamples();
        try (RunRecord run = run("seed=7,repeat-frame-at=1")) {
            assertThat(counted(run)).isEqualTo("repeated-frames 1, ");
            assertThat(run.samples()).isEqualTo(sound);
        }
    }

    @Test
    void a_frame_out_of_its_order_is_late_and_a_gap_stands_in_its_place() {
        long sound = soundSamples();
        try (RunRecord run = run("seed=7,reorder-frame-at=1")) {
            assertThat(counted(run)).isEqualTo("late-frames 1, lost-blocks 1, lost-frames 1, ");
            assertThat(run.samples() + missing(run)).isEqualTo(sound);
        }
    }

    @Test
    void a_truncated_frame_is_one_damaged_and_two_lost() {
        long sound = soundSamples();
        try (RunRecord run = run("seed=7,truncate-frame-at=1")) {
            assertThat(counted(run)).isEqualTo("damaged-frames 1, lost-blocks 2, lost-frames 2, ");
            assertThat(missing(run)).isEqualTo(128);
            assertThat(run.samples() + missing(run)).isEqualTo(sound);
        }
    }

    @Test
    void what_is_longer_than_any_frame_is_counted_and_costs_nothing() {
        long sound = soundSamples();
        try (RunRecord run = run("seed=7,garbage-at=1")) {
            assertThat(counted(run)).isEqualTo("damaged-frames 1, ");
            assertThat(run.samples()).isEqualTo(sound);
        }
    }

    @Test
    void an_overrun_of_the_rig_is_a_gap_of_exactly_so_many_samples() {
        long sound = soundSamples();
        try (RunRecord run = run("seed=7,overrun-at=1")) {
            assertThat(run.events()).anyMatch(e -> e.kind().equals("overrun") && e.value() == 25);
            assertThat(missing(run)).isEqualTo(25); // 50 ms at 512 Hz
            assertThat(run.samples() + missing(run)).isBetween(sound - 64, sound + 64); // another end of the last block
        }
    }
}
