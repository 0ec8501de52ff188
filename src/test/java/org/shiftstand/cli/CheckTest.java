package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.record.RunRecord;
import org.shiftstand.rig.GoAhead;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.RunMonitor;

/** One unit on a simulated rig: how a check ends, and what it leaves behind. */
@Timeout(120)
class CheckTest {
    @TempDir
    private Path folder;

    private Cli.Result check(String rig, String... more) {
        List<String> arguments = new ArrayList<>(
                List.of("check", "--rig", rig, "--procedure", "quick-look", "--spec", "tarn-drive-end-of-line"));
        arguments.addAll(List.of("--unit", "TD-0107", "--out", folder.toString()));
        arguments.addAll(List.of(more));
        return Commands.run(arguments.toArray(String[]::new));
    }

    @Test
    void either_a_person_stands_by_or_nobody_does() {
        Cli.Result result = check("sim", "--attended", "--unattended");

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err().lines())
                .containsExactly(
                        "--attended: does not go with --unattended: either a person stands by, or nobody does. Leave one of them out");
    }

    @Test
    void a_word_of_confirmation_that_is_none_is_refused_on_any_rig() {
        Cli.Result result = check("sim", "--unattended", "--confirm", "fused-suply,cut-out");

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err().lines())
                .containsExactly(
                        "--confirm fused-suply: is unknown; expected one or more of fused-supply,cut-out. Did you mean"
                                + " 'fused-supply'?");
    }

    private Path left(String name) throws IOException {
        try (Stream<Path> runs = Files.list(folder)) {
            return runs.filter(Files::isDirectory).findFirst().orElseThrow().resolve(name);
        }
    }

    private List<String> outcomes() throws IOException {
        return Files.readAllLines(left("shifts.csv")).stream()
                .skip(1)
                .map(row -> row.split(",", -1)[5])
                .toList();
    }

    @Test
    void why_a_run_ended_is_told_also_where_its_report_cannot_be_made() {
        JobFiles files = JobFiles.read("quick-look", "tarn-drive-end-of-line", Optional.empty(), Optional.empty());
        Bench.Job job = new Bench.Job(
                "TD-0107",
                RigAddress.parse("sim:seed=7,estop-at=8"),
                Optional.empty(),
                files,
                Optional.of(folder),
                Map.of());
        Bench bench = new Bench(Clock.systemUTC(), new Rigs(921_600), folder);

        assertThatThrownBy(() -> bench.check(
                        job, new Bench.Watch(RunMonitor.SILENT, GoAhead.NOBODY, () -> false, (record, writer) -> {
                            occupied(record.resolveSibling("report.html"));
                            return writer;
                        })))
                .isInstanceOfSatisfying(
                        Bench.NotJudged.class, e -> assertThat(e.end()).isInstanceOf(RunEnd.RigFault.class))
                .hasMessageContainingAll(
                        "The run ended early: rig: ",
                        "emergency stop",
                        "The supply is off. Its report could not be made: ",
                        "report.html: exists already",
                        "The record is ",
                        "TD-0107.run");
    }

    private static void occupied(Path file) {
        try {
            Files.writeString(file, "mine");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Test
    void a_shaft_that_jams_in_its_very_first_shift_does_not_define_its_own_nominal() throws IOException {
        Path junit = folder.resolve("results.xml");

        Cli.Result result = check("sim:seed=7,fault=jam,pair=1-2", "--junit", junit.toString());

        assertThat(result.exitCode()).isEqualTo(1);
        assertThat(junit)
                .content()
                .contains("<testcase classname=\"TD-0107\" name=\"was run to its end\"")
                .contains("<error message=\"stop-when: stalled");
        assertThat(result.out())
                .startsWith("The run ended early: stop-when: stalled")
                .contains("The supply is off.");
        assertThat(outcomes()).containsExactly("stalled");
    }

    @Test
    void an_emergency_stop_ends_with_exit_code_4_and_a_report_that_says_why() throws IOException {
        Cli.Result result = check("sim:seed=7,estop-at=20");

        assertThat(result.exitCode()).isEqualTo(4);
        assertThat(result.out()).contains("The run ended early: rig: ", "emergency stop");
        assertThat(Files.readString(left("report.html"))).contains("emergency stop");
        try (RunRecord run = RunRecord.open(left("TD-0107.run"))) {
            assertThat(run.end().orElseThrow()).contains("emergency stop");
            assertThat(run.supplyCuts()).isNotEmpty();
        }
    }

    @Test
    void an_unplugged_line_ends_with_exit_code_4_and_keeps_what_was_recorded() throws IOException {
        Cli.Result result = check("sim:seed=7,unplug-at=20");

        assertThat(result.exitCode()).isEqualTo(4);
        assertThat(result.out())
                .contains("link lost")
                .contains(
                        "The rig takes the supply away by itself within a second; see that it is off before you touch the drive")
                .doesNotContain("The supply is off");
        assertThat(outcomes()).hasSizeGreaterThan(3).contains("landed");
    }

    @Test
    void a_lost_frame_is_one_gap_and_one_shift_unmeasured_at_most() throws IOException {
        check("sim:seed=7,lose-frame-at=20");

        try (RunRecord run = RunRecord.open(left("TD-0107.run"))) {
            assertThat(run.gaps()).hasSizeLessThanOrEqualTo(1);
        }
        assertThat(outcomes().stream()
                        .filter(outcome -> !outcome.equals("landed"))
                        .toList())
                .hasSizeLessThanOrEqualTo(1);
        assertThat(outcomes()).hasSize(108);
    }

    @Test
    void the_operators_digest_and_the_files_are_in_the_record_and_the_name_lies_beside_it() throws IOException {
        Commands.run(
                "check",
                "--rig",
                "sim:seed=7,estop-at=8",
                "--procedure",
                "acceptance/quick-look.yaml",
                "--spec",
                Path.of("specs/tarn-drive-end-of-line.spec.yaml")
                        .toAbsolutePath()
                        .toString(),
                "--unit",
                "TD-0107",
                "--operator",
                "<b>Night & day</b>",
                "--out",
                folder.toString());

        SaltedName name =
                SaltedName.read(Files.readAllBytes(left("operator.json"))).orElseThrow();
        assertThat(name.name()).isEqualTo("<b>Night & day</b>");
        assertThat(Files.readString(left("result.json")))
                .contains(name.digest())
                .doesNotContain("Night");
        try (RunRecord run = RunRecord.open(left("TD-0107.run"))) {
            assertThat(run.header().identity()).containsEntry("operator", name.digest());
            assertThat(run.header().textNames()).containsEntry("spec", "tarn-drive-end-of-line.spec.yaml");
        }
        assertThat(Files.readString(left("report.html")))
                .contains("&lt;b&gt;Night &amp; day&lt;/b&gt;")
                .doesNotContain(Path.of("").toAbsolutePath().toString());
    }
}
