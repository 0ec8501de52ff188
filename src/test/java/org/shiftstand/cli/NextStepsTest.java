package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What {@code shiftstand} alone says, by what it finds. */
class NextStepsTest {
    @TempDir
    private Path folder;

    private List<String> said() {
        Path reports = folder.resolve("reports");
        return NextSteps.of(Workspace.in(folder), reports, RunsSoFar.below(reports));
    }

    private void file(String name, String text) throws IOException {
        Path file = folder.resolve(name);
        Files.createDirectories(file.getParent());
        Files.writeString(file, text);
    }

    private void run(String name, String result) throws IOException {
        String unit = name.substring(0, name.indexOf("-2026"));
        file("reports/" + name + "/" + unit + ".run", "");
        if (!result.isEmpty()) {
            file("reports/" + name + "/result.json", result);
        }
    }

    private static String result(String verdict, String attendance) {
        return "{\n  \"format\": 1,\n  \"verdict\": \"" + verdict + "\",\n  \"identity\": { \"attendance\": \""
                + attendance + "\" }\n}\n";
    }

    @Test
    void in_an_empty_folder_the_demo_and_init_are_shown() {
        assertThat(said())
                .contains("  shiftstand demo", "  shiftstand init my-drive")
                .hasSizeLessThan(16)
                .allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(100));
    }

    @Test
    void a_capture_is_to_be_judged_first() throws IOException {
        file("bench a.csv", "time_s,hall_sin,hall_cos\n");

        assertThat(said()).contains("  shiftstand judge 'bench a.csv' --spec passive-capture");
    }

    @Test
    void the_files_of_a_workspace_are_named_in_the_commands() throws IOException {
        file("my-drive.spec.yaml", "");
        file("sweeps.procedure.yaml", "");
        file("stand.rig.yaml", "rig: stand\nlink: { port: /dev/ttyUSB3, speed: 921600 }\n");

        assertThat(said())
                .contains("  shiftstand spec lint my-drive.spec.yaml --procedure sweeps.procedure.yaml")
                .contains("  shiftstand check --rig sim:seed=7 --rig-description stand.rig.yaml \\")
                .contains("  shiftstand check --rig serial:/dev/ttyUSB3 --rig-description stand.rig.yaml \\");
    }

    @Nested
    class With_runs {
        @Test
        void the_newest_is_the_one_of_the_latest_stamp_not_of_the_last_name() throws IOException {
            run("A-9-20261126T101500Z-001", result("fail", "attended"));
            run("Z-1-20261125T101500Z-001", result("pass", "attended"));

            assertThat(said().get(0)).startsWith("2 runs in ").endsWith("The newest is of unit A-9: fail.");
            assertThat(said()).anyMatch(line -> line.startsWith("  shiftstand judge ") && line.endsWith("/A-9.run"));
        }

        @Test
        void a_pass_is_to_be_packed() throws IOException {
            run("TD-1-20261126T101500Z-001", result("pass", "attended"));

            assertThat(said()).anyMatch(line -> line.startsWith("  shiftstand archive "));
        }

        @Test
        void a_simulated_one_leads_to_a_real_rig() throws IOException {
            run("TD-1-20261126T101500Z-001", result("pass", "simulated"));

            assertThat(said()).contains("  shiftstand rig list").noneMatch(line -> line.contains("archive"));
        }

        @Test
        void one_that_was_broken_off_can_go_on() throws IOException {
            run("TD-1-20261126T101500Z-001", "");

            assertThat(said().get(0)).endsWith("no verdict yet; it is still running, or was broken off.");
            assertThat(said())
                    .anyMatch(line ->
                            line.startsWith("  shiftstand check --resume ") && line.endsWith("TD-1.run --attended"));
        }

        @Test
        void other_folders_beside_them_do_not_count() throws IOException {
            file("reports/sample/result.json", result("pass", "attended"));

            assertThat(said().get(0)).startsWith("Nothing of Shiftstand");
        }
    }

    @Test
    void the_command_alone_exits_0_and_shows_no_usage_text() {
        Cli.Result result = Commands.run();

        assertThat(result.exitCode()).isZero();
        assertThat(result.err()).isEmpty();
        assertThat(result.out()).contains("shiftstand --help").doesNotContain("Usage:");
    }
}
