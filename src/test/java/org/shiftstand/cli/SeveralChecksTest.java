package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.record.RunRecord;

@Timeout(180)
class SeveralChecksTest {
    @Nested
    class Pairs {
        @Test
        void take_what_is_the_same_for_all() {
            assertThat(SeveralChecks.pairs(
                            List.of("A", "B"),
                            List.of("sim:seed=1", "sim"),
                            List.of("x.rig.yaml"),
                            List.of("--spec", "s")))
                    .containsExactly(
                            new SeveralChecks.Check(
                                    "A",
                                    List.of(
                                            "check",
                                            "--unit",
                                            "A",
                                            "--rig",
                                            "sim:seed=1",
                                            "--rig-description",
                                            "x.rig.yaml",
                                            "--spec",
                                            "s")),
                            new SeveralChecks.Check(
                                    "B",
                                    List.of(
                                            "check",
                                            "--unit",
                                            "B",
                                            "--rig",
                                            "sim",
                                            "--rig-description",
                                            "x.rig.yaml",
                                            "--spec",
                                            "s")));
        }

        @Test
        void that_do_not_go_together_are_told_all_at_once() {
            assertThatThrownBy(() -> SeveralChecks.pairs(
                            List.of("A", "A", "B"),
                            List.of("serial:/dev/ttyACM0", "serial:/dev/ttyACM0"),
                            List.of("x", "y", "z"),
                            List.of("--json", "--junit", "x.xml")))
                    .hasMessage("""
                            --unit: is given 3 times and --rig 2 times; expected as many of each, in pairs
                            --rig-description: is given 3 times for 2 rigs; expected one for all, or one for each in the order of --rig
                            --unit A: is given twice; a unit is on one rig at a time. Give each unit once
                            --rig serial:/dev/ttyACM0: is given twice; a rig holds one unit at a time. Give each rig once
                            --json: is for one unit; of several, each run's folder holds its result.json
                            --junit: is for one unit; of several, 'shiftstand judge FOLDER --junit FILE' writes one file from their records""");
        }
    }

    @Test
    void the_worst_exit_code_is_that_of_all() {
        assertThat(SeveralChecks.worst(List.of(0, 3, 1))).isEqualTo(1);
        assertThat(SeveralChecks.worst(List.of(0, 3))).isEqualTo(3);
        assertThat(SeveralChecks.worst(List.of(1, 130, 2))).isEqualTo(2);
        assertThat(SeveralChecks.worst(List.of(2, 4, 70))).isEqualTo(70);
        assertThat(SeveralChecks.worst(List.of(0, 137))).isEqualTo(4); // killed
    }

    @Nested
    @EnabledOnOs(OS.LINUX)
    class Processes {
        @TempDir
        private Path folder;

        private final List<Process> started = new ArrayList<>();

        @AfterEach
        void end() {
            started.forEach(process -> {
                process.descendants().forEach(ProcessHandle::destroyForcibly);
                process.destroyForcibly();
            });
        }

        private Process start(String procedure, String... unitsAndRigs) throws IOException {
            var command = new ArrayList<String>(List.of(
                    Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                    "-Xmx256m",
                    "-XX:+UseSerialGC",
                    "-cp",
                    Stream.of(System.getProperty("java.class.path").split(":", -1))
                            .map(entry -> Path.of(entry).toAbsolutePath().toString())
                            .reduce((a, b) -> a + ":" + b)
                            .orElseThrow(),
                    "org.shiftstand.cli.SeveralChecksMain"));
            command.addAll(List.of(unitsAndRigs));
            command.addAll(List.of(
                    "--",
                    "--procedure",
                    procedure,
                    "--spec",
                    spec().toString(),
                    "--profile",
                    "tarn-drive",
                    "--out",
                    out().toString()));
            Process process = new ProcessBuilder(command)
                    .redirectOutput(folder.resolve("stdout").toFile())
                    .redirectError(folder.resolve("stderr").toFile())
                    .start();
            started.add(process);
            return process;
        }

        private Path spec() throws IOException {
            return Files.writeString(folder.resolve("landing.spec.yaml"), """
                    spec: landing
                    version: 1
                    clauses:
                      - { id: all-land, measure: outcome, is-not: landed, statistic: count, at-most: 0 }
                    """);
        }

        private Path out() {
            return folder.resolve("out");
        }

        private String stdout() throws IOException {
            return Files.readString(folder.resolve("stdout"), StandardCharsets.UTF_8);
        }

        private Optional<Path> record(String unit) {
            if (!Files.isDirectory(out())) {
                return Optional.empty();
            }
            // asked by name: beside a growing record files come and go, which a walk over all of them stumbles on
            try (Stream<Path> runs = Files.list(out())) {
                return runs.map(run -> run.resolve(unit + ".run"))
                        .filter(Files::isRegularFile)
                        .findFirst();
            } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
            }
        }

        /** Waits until both runs record. */
        private void bothRun() {
            await().atMost(Duration.ofSeconds(90)).until(() -> grows("TD-0201") && grows("TD-0202"));
        }

        private boolean grows(String unit) throws IOException {
            Optional<Path> file = record(unit);
            if (file.isEmpty()) {
                return false;
            }
            Path wal = file.get().resolveSibling(unit + ".run-wal");
            return Files.size(file.get()) + (Files.exists(wal) ? Files.size(wal) : 0) > 200_000;
        }

        /** From the system: Java shows no arguments where the class path is long. */
        private List<String> arguments(ProcessHandle process) {
            try {
                return List.of(Files.readString(Path.of("/proc", Long.toString(process.pid()), "cmdline"))
                        .split("\0", -1));
            } catch (IOException e) {
                throw new java.io.UncheckedIOException(e);
            }
        }

        private void stoppedInOrder(String unit) {
            try (RunRecord run = RunRecord.open(record(unit).orElseThrow())) {
                assertThat(run.end()).as(unit).contains("stopped by the user");
                assertThat(run.events().stream().map(e -> e.kind()).toList())
                        .as(unit)
                        .contains("supply-off");
            }
        }

        private void ended(Process process) throws InterruptedException {
            assertThat(process.waitFor(90, TimeUnit.SECONDS)).isTrue();
        }

        @Test
        void each_unit_has_its_own_lines_record_and_verdict() throws Exception {
            Path short1 = Files.writeString(folder.resolve("short.yaml"), """
                    procedure: short
                    version: 1
                    steps: [ { supply: 8.2 V }, { home: {} }, { sweep: { from: 1, to: last, and-back: true } } ]
                    """);

            Process several = start(
                    short1.toString(), "TD-0201", "sim:seed=7", "TD-0202", "sim:seed=8,fault=missed,pair=2-3,rate=1");
            ended(several);

            assertThat(stdout())
                    .contains("TD-0201  PASS", "TD-0202  FAIL")
                    .contains("TD-0201  done: pass", "TD-0202  done: fail");
            assertThat(several.exitValue()).isEqualTo(1);
            for (String unit : List.of("TD-0201", "TD-0202")) {
                try (RunRecord run = RunRecord.open(record(unit).orElseThrow())) {
                    assertThat(run.header().unit()).isEqualTo(unit);
                    assertThat(run.end()).contains("");
                }
            }
        }

        @Test
        void sigterm_is_passed_on_and_waited_for() throws Exception {
            Process several = start("long-run", "TD-0201", "sim:seed=7", "TD-0202", "sim:seed=8");
            bothRun();

            several.destroy();
            ended(several);

            assertThat(several.exitValue()).isEqualTo(143);
            stoppedInOrder("TD-0201");
            stoppedInOrder("TD-0202");
            assertThat(stdout()).contains("TD-0201  Report: ", "TD-0202  Report: ");
        }

        @Test
        void each_stops_by_itself_when_the_one_that_started_it_is_killed() throws Exception {
            Process several = start("long-run", "TD-0201", "sim:seed=7", "TD-0202", "sim:seed=8");
            bothRun();
            List<ProcessHandle> children = several.children().toList();

            several.destroyForcibly();
            ended(several);

            assertThat(children).hasSize(2);
            await().atMost(Duration.ofSeconds(60)).until(() -> children.stream().noneMatch(ProcessHandle::isAlive));
            stoppedInOrder("TD-0201");
            stoppedInOrder("TD-0202");
        }

        @Test
        void one_that_is_killed_does_not_stop_the_other() throws Exception {
            Process several = start("quick-look", "TD-0201", "sim:seed=7", "TD-0202", "sim:seed=8");
            await().atMost(Duration.ofSeconds(90)).until(() -> grows("TD-0202"));
            ProcessHandle second = several.children()
                    .filter(child -> arguments(child).contains("TD-0202"))
                    .findFirst()
                    .orElseThrow();

            second.destroyForcibly();
            ended(several);

            assertThat(several.exitValue()).isEqualTo(ExitCode.RIG);
            assertThat(stdout())
                    .contains("TD-0202  its process was killed (exit 137)")
                    .contains("TD-0201  Report: ");
            try (RunRecord run = RunRecord.open(record("TD-0201").orElseThrow())) {
                assertThat(run.end()).contains("");
            }
        }
    }
}
