package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.record.RunRecord;

/** A run that was broken off goes on. */
@Timeout(180)
class ResumeTest {
    @TempDir
    Path folder;

    @Test
    void a_killed_run_goes_on_where_it_stood_and_is_judged_as_one() {
        Path record = killed("sim:seed=7");
        int before;
        int place;
        try (RunRecord left = RunRecord.open(record)) {
            before = left.requests().size();
            place = left.place().orElseThrow().action();
        }

        Cli.Result result = Commands.run("check", "--resume", record.toString());

        assertThat(result.exitCode()).as(result.err()).isZero();
        try (RunRecord whole = RunRecord.open(record)) {
            assertThat(whole.end()).contains("");
            assertThat(whole.breaks()).hasSize(1);
            assertThat(whole.sessions()).hasSize(2);
            assertThat(whole.requests()).hasSizeGreaterThan(before);
            assertThat(whole.place().orElseThrow().action()).isGreaterThan(place);
            assertThat(whole.requests().stream()
                            .filter(r -> r.step().orElse("").startsWith("sweep"))
                            .count())
                    .as("every shift of the script, and perhaps the one that was broken off")
                    .isBetween(432L, 433L);
        }
        assertThat(record.resolveSibling("report.html")).exists();
        assertThat(result.out()).contains("PASS", "broken off");
    }

    @Test
    void a_run_that_ended_early_goes_on_in_a_copy_and_the_sealed_record_stays_as_it_was() throws IOException {
        Commands.run(check("sim:seed=7,estop-at=60"));
        Path sealed = record();
        byte[] bytes = Files.readAllBytes(sealed);

        Cli.Result result = Commands.run(
                "check",
                "--resume",
                sealed.toString(),
                "--rig",
                "sim:seed=7",
                "--out",
                folder.resolve("more").toString());

        assertThat(result.exitCode()).as(result.err()).isZero();
        assertThat(Files.readAllBytes(sealed)).isEqualTo(bytes);
        try (RunRecord whole = RunRecord.open(recordUnder(folder.resolve("more")))) {
            assertThat(whole.breaks()).hasSize(1);
            assertThat(whole.breaks().get(0).cause()).contains("emergency stop");
            assertThat(whole.header().identity()).containsKey("continues");
        }
    }

    @Test
    void a_run_that_was_broken_off_in_a_rest_without_supply_makes_the_rest_and_goes_on() throws IOException {
        Path procedure = Files.writeString(folder.resolve("cooling.yaml"), """
                procedure: cooling
                version: 1
                sample-rate: 512 Hz
                steps:
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: 3, rest: 350 ms, label: warm }
                  - supply: off
                  - rest: 5 min
                  - supply: 8.2 V
                  - home: {}
                  - sweep: { from: 1, to: 3, rest: 350 ms, label: cool }
                """);
        Commands.run(check("sim:seed=7,estop-at=120", procedure.toString()));
        Path sealed = record();

        Cli.Result result = Commands.run(
                "check",
                "--resume",
                sealed.toString(),
                "--rig",
                "sim:seed=7",
                "--out",
                folder.resolve("more").toString());

        assertThat(result.err()).doesNotContain("defect");
        try (RunRecord whole = RunRecord.open(recordUnder(folder.resolve("more")))) {
            assertThat(whole.end()).contains("");
            assertThat(whole.breaks()).hasSize(1);
            assertThat(whole.requests().stream().map(r -> r.step().orElse("")).filter(step -> !step.equals("home")))
                    .containsExactly("warm", "warm", "cool", "cool");
        }
    }

    @Nested
    class Refused {
        @Test
        void a_run_that_is_done() {
            Commands.run(check("sim:seed=7", "quick-look"));

            Cli.Result result = Commands.run("check", "--resume", record().toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err())
                    .contains("this run did all of its script; there is nothing to go on with. 'shiftstand judge'");
        }

        @Test
        void a_run_that_was_ended_for_what_the_unit_did() {
            Commands.run(check("sim:seed=7,surge-at=30"));

            Cli.Result result = Commands.run("check", "--resume", record().toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("ended for what the unit did (rig: over-current");
        }

        @Test
        void files_that_the_record_brings() {
            Path record = killed("sim:seed=7");

            Cli.Result result = Commands.run(
                    "check", "--resume", record.toString(), "--spec", "passive-capture", "--unit", "TD-0108");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err().lines())
                    .containsExactly(
                            "--spec: not to be given with --resume: the run goes on as it began, and its record says how"
                                    + " that was",
                            "--unit: not to be given with --resume: the run goes on as it began, and its record says how"
                                    + " that was");
        }

        @Test
        void what_is_no_record() {
            Cli.Result result =
                    Commands.run("check", "--resume", folder.resolve("none.run").toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("none.run: no such record");
        }

        @Test
        void another_rig() {
            Path record = killed("sim:seed=7");

            Cli.Result result = Commands.run("check", "--resume", record.toString(), "--rig", "serial:/dev/none");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("is a real rig, and nothing was moved");
        }
    }

    private Path killed(String rig) {
        try (Cli.Running check = Cli.in(folder).start(check(rig))) {
            await().atMost(Duration.ofSeconds(60))
                    .pollInterval(Duration.ofMillis(10))
                    .until(() -> !check.alive() || recorded() > 1_000_000);
            assertThat(check.alive()).as("it ended by itself: %s", check.err()).isTrue();
            check.kill();
        }
        return record();
    }

    private String[] check(String rig) {
        return check(rig, "end-of-line");
    }

    private String[] check(String rig, String procedure) {
        return new String[] {
            "check",
            "--rig",
            rig,
            "--procedure",
            procedure,
            "--spec",
            "tarn-drive-end-of-line",
            "--unit",
            "TD-0107",
            "--out",
            folder.resolve("out").toString()
        };
    }

    private Path record() {
        return recordUnder(folder.resolve("out"));
    }

    private static Path recordUnder(Path out) {
        return files(out).stream()
                .filter(f -> f.toString().endsWith(".run"))
                .findFirst()
                .orElseThrow();
    }

    private long recorded() {
        return files(folder.resolve("out")).stream()
                .filter(f -> f.toString().endsWith(".run") || f.toString().endsWith(".run-wal"))
                .mapToLong(f -> f.toFile().length())
                .sum();
    }

    private static List<Path> files(Path out) {
        if (Files.notExists(out)) {
            return List.of();
        }
        try (Stream<Path> files = Files.walk(out)) {
            return files.filter(Files::isRegularFile).toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        } catch (UncheckedIOException e) {
            return List.of(); // a file of the log was removed while it was listed
        }
    }
}
