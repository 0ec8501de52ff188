package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.bench.ProbeFiles;
import org.shiftstand.bench.ProbeReport;
import org.shiftstand.bench.ProbeReport.Check;
import org.shiftstand.bench.ProbeReport.Result;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SupplyChange;

@Timeout(240)
class RigProbeTest {
    @TempDir
    private Path folder;

    private Cli.Result probe(String address, String... more) {
        List<String> arguments = new ArrayList<>(
                List.of("rig", "probe", "--rig", address, "--unit", "TD-0107", "--out", folder.toString()));
        arguments.addAll(List.of(more));
        return Commands.run(arguments.toArray(String[]::new));
    }

    private ProbeReport newest() {
        return ProbeFiles.newest(folder, "sim").report().orElseThrow();
    }

    @Test
    void a_sound_rig_has_a_line_a_check_told_by_shape_and_word_and_a_file() {
        Cli.Result probed = probe("sim:seed=7,estop-at=9");

        assertThat(probed.exitCode()).as(probed.out() + probed.err()).isZero();
        assertThat(probed.lines().stream().filter(l -> l.startsWith("  \u2713 pass ") || l.startsWith("  \u25B2 ")))
                .hasSize(Check.values().length);
        assertThat(probed.out())
                .contains(
                        "A run that nobody attends may use this probe for 24 hours from the press of the emergency stop.")
                .endsWith("Probe file: " + folder.resolve("sim-20260101T000000Z.probe.yaml") + System.lineSeparator());
        assertThat(probed.err()).contains(">> Press the emergency stop now, within 60 s.");
        assertThat(newest().finding(Check.EMERGENCY_STOP).orElseThrow().result())
                .isEqualTo(Result.PASS);
    }

    @Test
    void without_the_emergency_stop_it_is_not_measured_and_the_exit_code_says_so() {
        Cli.Result probed = probe("sim:seed=7", "--without-emergency-stop");

        assertThat(probed.exitCode()).isEqualTo(3);
        assertThat(probed.out())
                .contains("  \u25CB not measured  emergency-stop    left out as asked: nobody was there to press it")
                .contains("A run that nobody attends may not use this probe: it needs a pass of emergency-stop.");
    }

    @Test
    void the_files_of_several_probes_stand_beside_each_other() throws IOException {
        probe("sim:seed=7", "--without-emergency-stop");
        Cli.Result second = probe("sim:seed=7", "--without-emergency-stop", "--json");

        assertThat(folder.toFile().list())
                .containsExactlyInAnyOrder("sim-20260101T000000Z.probe.yaml", "sim-20260101T000000Z-2.probe.yaml");
        assertThat(second.out())
                .startsWith("{")
                .contains("\"check\": \"heartbeat-cut\"")
                .contains("\"unit\": \"s\"");
    }

    @Test
    void an_emergency_stop_in_between_ends_it_with_what_was_found() {
        Cli.Result probed = probe("sim:seed=7,estop-at=12", "--without-emergency-stop");

        assertThat(probed.exitCode()).isEqualTo(4);
        assertThat(probed.err())
                .contains("The probe ended early: rig: emergency stop (state fault). The supply is off.");
        assertThat(newest().finding(Check.COAST).orElseThrow().result()).isEqualTo(Result.NOT_MEASURED);
    }

    @Test
    void where_nobody_answers_no_file_is_left() {
        Cli.Result probed = probe("sim:silent=true");

        assertThat(probed.exitCode()).isEqualTo(4);
        assertThat(folder).isEmptyDirectory();
    }

    /**
     * In real time, byte by byte. What depends on how busy this machine is (how soon a cut gets there) may need attention
     * here; what the rig does by its own clock must not.
     */
    @EnabledOnOs(OS.LINUX)
    @Test
    void a_rig_on_a_real_terminal_is_probed_after_the_cautions() throws IOException {
        try (PtyRig rig = new PtyRig(
                ProfileReader.find("tarn-drive"), SimOptions.parse("seed=7,estop-at=15"), Optional.empty())) {
            Cli.Result unread = probe("serial:" + rig.path());

            assertThat(unread.exitCode()).isEqualTo(2);
            assertThat(unread.err())
                    .contains("CAUTION")
                    .contains("nothing was moved")
                    .contains("add --attended");
            assertThat(rig.supplyLog()).isEmpty();

            Cli.Result probed = probe("serial:" + rig.path(), "--attended", "--profile", "tarn-drive");

            assertThat(probed.exitCode()).as(probed.out() + probed.err()).isIn(0, 1);
            for (Check check : List.of(
                    Check.IDENTITY,
                    Check.CURRENT_CHANNEL,
                    Check.SUPPLY_CHANNEL,
                    Check.SUPPLY,
                    Check.EMERGENCY_STOP,
                    Check.CURRENT_LIMIT)) {
                assertThat(newest().finding(check).orElseThrow().result())
                        .as(probed.out())
                        .isEqualTo(Result.PASS);
            }
            assertThat(newest().with(Result.NOT_MEASURED)).as(probed.out()).isEmpty();
            Instant pressed =
                    newest().finding(Check.EMERGENCY_STOP).orElseThrow().at().orElseThrow();
            assertThat(Duration.between(pressed, Instant.now()))
                    .isBetween(Duration.ofSeconds(-2), Duration.ofMinutes(4));
            List<SupplyChange> log = rig.supplyLog();
            assertThat(log.stream().map(SupplyChange::cause)).contains("emergency stop", "watchdog", "over-current");
            assertThat(log.get(log.size() - 1).milliVolts()).isZero();
        }
    }
}
