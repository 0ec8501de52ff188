package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.record.RunRecord;

/** A check that is stopped or killed, as a process of its own. */
@EnabledOnOs(OS.LINUX)
@Timeout(180)
class SafeStopTest {
    @TempDir
    private Path folder;

    private Cli.Running longRun() {
        return Cli.in(folder)
                .start(
                        "check",
                        "--rig",
                        "sim:seed=7",
                        "--procedure",
                        "long-run",
                        "--spec",
                        "tarn-drive-end-of-line",
                        "--unit",
                        "TD-0107",
                        "--out",
                        folder.resolve("out").toString());
    }

    /** The record of the run, once it holds some blocks. */
    private Path growing() throws IOException {
        await().atMost(Duration.ofSeconds(60)).until(() -> record().isPresent());
        Path record = record().orElseThrow();
        await().atMost(Duration.ofSeconds(60)).until(() -> Files.size(record) + walSize(record) > 300_000);
        return record;
    }

    private static long walSize(Path record) throws IOException {
        Path wal = record.resolveSibling(record.getFileName() + "-wal");
        return Files.exists(wal) ? Files.size(wal) : 0;
    }

    private Optional<Path> record() throws IOException {
        Path out = folder.resolve("out");
        if (!Files.isDirectory(out)) {
            return Optional.empty();
        }
        try (Stream<Path> files = Files.walk(out)) {
            return files.filter(file -> file.toString().endsWith(".run")).findFirst();
        }
    }

    private void stoppedInOrder(Path record) throws IOException {
        try (RunRecord run = RunRecord.open(record)) {
            assertThat(run.end()).contains("stopped by the user");
            assertThat(run.events().stream().map(e -> e.kind()).toList()).contains("supply-off");
        }
        assertThat(record.resolveSibling("report.html")).isNotEmptyFile();
        assertThat(Files.readString(record.resolveSibling("report.html"))).contains("stopped by the user");
    }

    @Test
    void ctrl_c_cuts_the_supply_closes_the_record_and_reports() throws IOException {
        try (Cli.Running run = longRun()) {
            Path record = growing();
            run.interrupt();
            run.interrupt(); // a second one does not skip the cut

            assertThat(run.result().exitCode()).isEqualTo(130);
            stoppedInOrder(record);
        }
    }

    @Test
    void sigterm_does_the_same() throws IOException {
        try (Cli.Running run = longRun()) {
            Path record = growing();
            run.terminate();

            assertThat(run.result().exitCode()).isEqualTo(143);
            stoppedInOrder(record);
        }
    }

    @Test
    void a_killed_check_leaves_a_record_that_opens_and_can_be_judged() throws IOException {
        Path record;
        try (Cli.Running run = longRun()) {
            record = growing();
            run.kill();
        }

        try (RunRecord run = RunRecord.open(record)) {
            assertThat(run.end()).as("never finished").isEmpty();
            assertThat(run.samples()).isPositive();
            assertThat(run.header().unit()).isEqualTo("TD-0107");
        }
        assertThat(record.resolveSibling("report.html")).doesNotExist();

        Cli.Result judged = Commands.run("judge", record.toString());

        // never a pass; a fail where the few shifts there are already break a bound
        assertThat(judged.exitCode()).as(judged.out() + judged.err()).isIn(1, 3);
        assertThat(judged.out()).startsWith("TD-0107: ").contains("the record was never finished");
    }

    /** The host's Ctrl-C on a real serial line: the rig, which outlives the host, has the supply off. */
    @Test
    void a_check_over_a_serial_line_counts_one_flipped_byte_as_exactly_one_gap() throws IOException {
        Path procedure = Files.writeString(folder.resolve("few.yaml"), """
                procedure: few
                version: 1
                sample-rate: 512 Hz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - visit: { sprockets: [1, 2, 3, 2, 1], times: 1, rest: 100 ms }
                """);
        try (Cli.Running rig = Cli.in(folder)
                .start(
                        "rig",
                        "simulate",
                        "--pty",
                        "seed=7,flip-byte-at=2.5",
                        "--link",
                        folder.resolve("rig").toString())) {
            await().atMost(Duration.ofSeconds(60)).until(() -> Files.isSymbolicLink(folder.resolve("rig")));

            Cli.Result checked = Cli.in(folder)
                    .run(
                            "check",
                            "--rig",
                            "serial:" + folder.resolve("rig"),
                            "--procedure",
                            procedure.toString(),
                            "--spec",
                            "tarn-drive-end-of-line",
                            "--unit",
                            "TD-0107",
                            "--attended",
                            "--out",
                            folder.resolve("out").toString());

            assertThat(rig.out()).startsWith("serial:/dev/pts/");
            assertThat(checked.err()).contains("CAUTION");
            assertThat(checked.exitCode()).as(checked.out() + checked.err()).isIn(1, 3); // too few shifts for a pass
            Path record = record().orElseThrow();
            try (RunRecord run = RunRecord.open(record)) {
                assertThat(run.end()).contains("");
                assertThat(run.gaps()).hasSize(1);
                assertThat(run.requests().stream()
                                .filter(r -> r.cycle().orElse(0) > 0)
                                .toList())
                        .hasSize(4);
            }
            rig.interrupt();
            assertThat(rig.result().exitCode()).isEqualTo(130);
            assertThat(folder.resolve("rig")).doesNotExist();
        }
    }

    @Test
    void nothing_depends_on_locale_or_time_zone() throws IOException {
        String capture = Path.of("src/test/resources/captures/bench-e.csv.gz")
                .toAbsolutePath()
                .toString();
        List<Cli.Result> results = Stream.of(
                        List.of("-Duser.language=en", "-Duser.country=GB", "-Duser.timezone=UTC"),
                        List.of("-Duser.language=tr", "-Duser.country=TR", "-Duser.timezone=Asia/Kathmandu"),
                        List.of("-Duser.language=ar", "-Duser.country=EG", "-Duser.timezone=America/St_Johns"))
                .map(options -> Cli.in(folder)
                        .java(options.toArray(String[]::new))
                        .run("judge", capture, "--spec", "passive-capture", "--json"))
                .toList();

        assertThat(results.get(0).exitCode()).as(results.get(0).err()).isLessThan(2);
        assertThat(results)
                .allSatisfy(result ->
                        assertThat(result.out()).isEqualTo(results.get(0).out()));
    }
}
