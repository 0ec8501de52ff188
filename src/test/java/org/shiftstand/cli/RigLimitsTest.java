package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.condition.EnabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.bench.UnitLimits;
import org.shiftstand.bench.UnitLimitsReader;
import org.shiftstand.document.TextFile;
import org.shiftstand.profile.ProfileReader;
import org.shiftstand.sim.PtyRig;
import org.shiftstand.sim.SimOptions;
import org.shiftstand.sim.SupplyChange;

@Timeout(180)
class RigLimitsTest {
    @TempDir
    private Path folder;

    private Path file() {
        return folder.resolve("TD-0107.limits.yaml");
    }

    private Cli.Result limits(String... more) {
        List<String> arguments =
                new ArrayList<>(List.of("rig", "limits", "--unit", "TD-0107", "--out", file().toString()));
        arguments.addAll(List.of(more));
        return Commands.run(arguments.toArray(String[]::new));
    }

    private UnitLimits written() {
        return UnitLimitsReader.read(TextFile.read("limits", file()));
    }

    @Nested
    class By_driving {
        @Test
        void a_simulated_unit_leaves_its_limits_in_a_file() {
            Cli.Result found = limits("--rig", "sim:seed=7,drive=direct");

            assertThat(found.exitCode()).as(found.err()).isZero();
            assertThat(found.out())
                    .contains("outboard  -5")
                    .contains("Angles of this search agree with each other to 0.")
                    .endsWith("Limits: " + file() + System.lineSeparator());
            assertThat(written().outboard().atDeg()).isCloseTo(-520, within(0.5));
            assertThat(written().inboard().atDeg()).isCloseTo(7100, within(0.5));
            assertThat(written().rig()).contains("sim");
        }

        @EnabledOnOs(OS.LINUX)
        @Test
        void a_rig_on_a_real_terminal_is_driven_after_the_cautions() throws IOException {
            try (PtyRig rig = new PtyRig(
                    ProfileReader.find("tarn-drive"), SimOptions.parse("seed=7,drive=direct"), Optional.empty())) {
                Cli.Result unread = limits("--rig", "serial:" + rig.path(), "--profile", "tarn-drive");

                assertThat(unread.exitCode()).isEqualTo(2);
                assertThat(unread.err())
                        .contains("CAUTION")
                        .contains("nothing was moved")
                        .contains("add --attended");
                assertThat(rig.supplyLog()).isEmpty();

                Cli.Result found = searched(rig);
                for (int again = 0; again < 2 && found.err().contains("has said nothing for 1 s"); again++) {
                    found = searched(rig); // the machine was too busy to pace the rig: that is no answer
                }

                assertThat(found.exitCode()).as(found.out() + found.err()).isZero();
                assertThat(written().outboard().atDeg()).isCloseTo(-520, within(0.5));
                assertThat(written().inboard().atDeg()).isCloseTo(7100, within(0.5));
                assertThat(written().by()).contains("x");
                List<SupplyChange> log = rig.supplyLog();
                assertThat(log.get(log.size() - 1).milliVolts()).isZero();
                assertThat(log.get(log.size() - 1).cause()).isIn("cut", "stop");
            }
        }

        private Cli.Result searched(PtyRig rig) {
            return limits("--rig", "serial:" + rig.path(), "--profile", "tarn-drive", "--attended", "--by", "x");
        }

        @Test
        void a_search_that_is_broken_off_leaves_no_file() {
            Cli.Result refused = limits("--rig", "sim:seed=7,drive=direct,start=2");

            assertThat(refused.exitCode()).isEqualTo(4);
            assertThat(refused.err())
                    .startsWith("No limits: rig: the shaft went 700 deg outboard of where it stood")
                    .endsWith("is this its profile? The supply is off. No file was written. Set that right and search"
                            + " again, or measure by hand." + System.lineSeparator());
            assertThat(file()).doesNotExist();
        }

        @Test
        void nothing_is_overwritten_and_nothing_moves_before_that_is_known() throws IOException {
            Files.writeString(file(), "mine");

            Cli.Result refused = limits("--rig", "serial:/dev/there-is-none", "--profile", "tarn-drive", "--attended");

            assertThat(refused.exitCode()).isEqualTo(2);
            assertThat(refused.err()).contains("exists already, and nothing is overwritten");
            assertThat(file()).hasContent("mine");
            assertThat(limits("--rig", "sim:seed=7,drive=direct", "--force").exitCode())
                    .isZero();
        }

        @Test
        void a_real_rig_needs_a_profile_that_bounds_the_travel() {
            assertThat(limits("--rig", "serial:/dev/there-is-none", "--attended")
                            .err())
                    .startsWith(
                            "--profile: is missing; expected the profile of this kind of unit: it says how far the");
        }

        @Test
        void a_rig_whose_description_says_requests_is_not_even_opened() {
            Cli.Result refused = limits(
                    "--rig",
                    "serial:/dev/there-is-none",
                    "--profile",
                    "tarn-drive",
                    "--attended",
                    "--rig-description",
                    Path.of("rig/bench-two.rig.yaml").toString());

            assertThat(refused.exitCode()).isEqualTo(2);
            assertThat(refused.err()).contains("says drive: requests").contains("nothing was moved");
        }

        @Test
        void a_current_that_is_no_gentle_touch_is_refused() {
            assertThat(limits("--rig", "sim:drive=direct", "--current", "4 A").err())
                    .isEqualTo(
                            "rig limits: --current 4 A: expected 0.1 A to 1.5 A: enough to turn the drive, too little to"
                                    + " hurt it" + System.lineSeparator());
        }
    }

    @Nested
    class By_hand {
        @Test
        void the_values_are_kept_with_who_and_when() {
            Cli.Result kept = limits(
                    "--outboard", "-515 deg", "--inboard", "7080 deg", "--by", "station 2", "--on", "2026-09-14");

            assertThat(kept.exitCode()).as(kept.err()).isZero();
            assertThat(kept.out())
                    .startsWith(
                            "Nothing was moved. Unit TD-0107's own mechanical limits, measured by hand on 2026-09-14 by"
                                    + " station 2: outboard -515 deg, inboard 7080 deg.");
            assertThat(written().method()).isEqualTo(UnitLimits.Method.BY_HAND);
        }

        @Test
        void all_of_them_are_needed_and_what_is_wrong_is_told_at_once() {
            Cli.Result refused = limits("--outboard", "-515", "--on", "2036-09-14");

            assertThat(refused.exitCode()).isEqualTo(2);
            assertThat(refused.err().lines().map(line -> line.replaceAll(":.*", "")))
                    .containsExactly("--outboard -515", "--inboard", "--on 2036-09-14", "--by");
            assertThat(file()).doesNotExist();
        }

        @Test
        void values_inside_the_positions_of_the_profile_are_refused() {
            Cli.Result refused = limits(
                    "--outboard",
                    "-515 deg",
                    "--inboard",
                    "6500 deg",
                    "--by",
                    "station 2",
                    "--on",
                    "2026-09-14",
                    "--profile",
                    "tarn-drive");

            assertThat(refused.exitCode()).isEqualTo(2);
            assertThat(refused.err()).contains("the inboard limit, 6500 deg, is inside the positions");
        }
    }

    @Nested
    class In_use {
        private final String capture =
                Path.of("src/test/resources/captures/bench-a.csv.gz").toString();

        private void keep(String unit) throws IOException {
            Files.writeString(
                    file(),
                    "unit: " + unit + "\non: 2026-09-14\nmethod: measured by hand\nby: station 2\n"
                            + "outboard: { at: -600 deg }\ninboard: { at: 7200 deg }\n");
        }

        @Test
        void judge_says_which_limits_it_used() throws IOException {
            keep("TD-0107");

            Cli.Result judged = Commands.run(
                    "judge", capture, "--spec", "passive-capture", "--limits", file().toString(), "--json");

            assertThat(judged.out())
                    .contains("unit TD-0107's own mechanical limits, measured by hand on 2026-09-14 by station 2");
        }

        @Test
        void judge_refuses_those_of_another_unit() throws IOException {
            keep("TD-0107");

            Cli.Result judged = Commands.run(
                    "judge", capture, "--spec", "passive-capture", "--unit", "TD-0199", "--limits", file().toString());

            assertThat(judged.exitCode()).isEqualTo(2);
            assertThat(judged.err()).contains("has the limits of unit TD-0107, and the unit is TD-0199");
        }
    }
}
