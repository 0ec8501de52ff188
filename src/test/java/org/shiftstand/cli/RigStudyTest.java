package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.shiftstand.bench.RigDescription;
import org.shiftstand.bench.RigDescriptionReader;
import org.shiftstand.bench.StudyResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class RigStudyTest {
    private static final String EXAMPLE = "rig/bench-two.rig.yaml";

    @TempDir
    private Path folder;

    private static Cli.Result study(String... arguments) {
        List<String> all = new ArrayList<>(List.of("rig", "study"));
        all.addAll(List.of(arguments));
        return Commands.run(all.toArray(String[]::new));
    }

    private static JsonNode json(Cli.Result result) {
        return new ObjectMapper().readTree(result.out());
    }

    @Nested
    class Importing {
        /** AIAG Measurement Systems Analysis, worked example; 0.0005 for the rounding on the way there. */
        @Test
        void the_packed_study_gives_the_printed_figures() {
            Cli.Result result = study("--import", "study-10x3x3", "--json");

            assertThat(result.exitCode()).as(result.err()).isZero();
            JsonNode ranges = json(result).get("by_ranges");
            assertThat(ranges.get("repeatability").get("sd").asDouble()).isCloseTo(0.20188, within(0.0005));
            assertThat(ranges.get("reproducibility").get("sd").asDouble()).isCloseTo(0.22963, within(0.0005));
            assertThat(ranges.get("gauge").get("share_of_study").asDouble()).isCloseTo(0.2668, within(0.0001));
            assertThat(ranges.get("distinct_categories").asInt()).isEqualTo(5);
            JsonNode variance = json(result).get("by_variance");
            assertThat(variance.get("gauge").get("share_of_study").asDouble()).isCloseTo(0.2786, within(0.00005));
            assertThat(variance.get("distinct_categories").asInt()).isEqualTo(4);
        }

        @Test
        void it_is_told_in_tables() {
            Cli.Result result = study("--import", "study-10x3x3");

            assertThat(result.lines())
                    .contains(
                            "Gauge study of bare numbers: 10 units, 3 mounts, 3 repeats; 90 values, mean 0.0014444.",
                            "  units                      88.362        9       9.8180     492.29",
                            "  reproducibility           0.22684        20.90         4.37",
                            "  gauge, all of these       0.30237        27.86         7.76",
                            "  distinct categories: 4 (4.8605, truncated); 5 or more tell units apart by common practice")
                    .allSatisfy(line -> assertThat(line).hasSizeLessThanOrEqualTo(110));
        }

        @Test
        void a_spec_is_held_against_it_clause_by_clause() {
            Cli.Result result =
                    study("--import", "study-10x3x3", "--measure", "landing-error", "--spec", "tarn-drive-end-of-line");

            assertThat(result.exitCode()).as(result.err()).isZero();
            assertThat(result.out())
                    .contains("  can       landing-error ")
                    .contains("  can       landing-bias ")
                    .contains("These limits are common practice, no published source.");
        }

        @Test
        void a_spec_without_such_a_clause_is_no_verdict() {
            Cli.Result result =
                    study("--import", "study-10x3x3", "--measure", "charge", "--spec", "tarn-drive-end-of-line");

            assertThat(result.exitCode()).isEqualTo(3);
            assertThat(result.out()).contains("Spec tarn-drive-end-of-line has no clause on charge");
        }

        @Test
        void what_does_not_go_together_is_told_at_once() {
            Cli.Result result =
                    study("--import", "study-10x3x3", "--rig", "sim", "--units", "A,B", "--attended", "--keep", "x");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err().lines())
                    .containsExactly(
                            "--rig: does not go with --import: the values are measured already; leave one out",
                            "--measure: is missing; expected what is studied, such as landing-error",
                            "--units: is for a study on a rig, not for --import; leave it out, since the table names its units",
                            "--attended: is for a study on a rig, not for --import; leave it out",
                            "--rig-description: is missing; expected the description that --keep is to copy");
        }

        @Test
        void an_unknown_file_is_told_what_there_is() {
            Cli.Result result = study("--import", "study-10x3x2");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("rig/study-10x3x3.csv. Did you mean 'study-10x3x3'?");
        }
    }

    @Nested
    class Keeping {
        private Path kept() {
            return folder.resolve("kept.rig.yaml");
        }

        private Cli.Result keep(String... more) {
            List<String> all = new ArrayList<>(
                    List.of("--import", "study-10x3x3", "--measure", "landing-error", "--rig-description", EXAMPLE));
            all.addAll(List.of("--keep", kept().toString(), "--on", "2026-09-14"));
            all.addAll(List.of(more));
            return study(all.toArray(String[]::new));
        }

        @Test
        void the_result_is_in_a_copy_of_the_description_and_every_later_run_counts_it() throws IOException {
            Cli.Result result = keep();

            assertThat(result.exitCode()).as(result.err()).isZero();
            RigDescription rig = RigDescriptionReader.find(kept().toString());
            StudyResult study = rig.studies().get(0);
            assertThat(study.repeatability()).isCloseTo(0.199933, within(1e-9));
            assertThat(study.reproducibility()).isCloseTo(0.226838, within(1e-9));
            assertThat(study.repeatabilityUsed()).isTrue();
            assertThat(Files.readString(kept())).startsWith(Files.readString(Path.of(EXAMPLE)));

            Cli.Result checked = Commands.run(
                    "check",
                    "--rig",
                    "sim:seed=7",
                    "--procedure",
                    "quick-look",
                    "--spec",
                    "tarn-drive-end-of-line",
                    "--unit",
                    "TD-0107",
                    "--rig-description",
                    kept().toString(),
                    "--out",
                    folder.toString(),
                    "--json");

            assertThat(checked.out())
                    .contains("\"reproducibility\"")
                    .contains("gauge study of 2026-09-14, 10 units, 3 mounts, 3 repeats");
        }

        @Test
        void nothing_is_overwritten_unless_asked() throws IOException {
            Files.writeString(kept(), "mine");

            Cli.Result refused = keep();

            assertThat(refused.exitCode()).isEqualTo(2);
            assertThat(refused.out()).isEmpty();
            assertThat(refused.err()).contains("exists already, and nothing is overwritten");
            assertThat(kept()).hasContent("mine");
            assertThat(keep("--force").exitCode()).isZero();
            assertThat(RigDescriptionReader.find(kept().toString()).studies()).hasSize(1);
        }

        @Test
        void a_study_of_tomorrow_is_refused() {
            Cli.Result result = keep("--on", "2999-01-01");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(kept()).doesNotExist();
        }
    }

    @Nested
    class On_a_simulated_rig {
        private Cli.Result run(String... more) {
            List<String> all = new ArrayList<>(
                    List.of("--rig", "sim:seed=7,landing-sd=1", "--units", "TD-0101,TD-0102,TD-0103", "--mounts", "2"));
            all.addAll(List.of("--repeats", "2", "--measure", "landing-error", "--out", folder.toString()));
            all.addAll(List.of(more));
            return study(all.toArray(String[]::new));
        }

        private Path values() throws IOException {
            try (var found = Files.walk(folder)) {
                return found.filter(p -> p.endsWith(StudyOnRig.VALUES))
                        .findFirst()
                        .orElseThrow();
            }
        }

        @Test
        void units_that_lie_far_apart_are_told_apart() throws IOException {
            Cli.Result result = run("--pair", "3-4", "--unit-sd", "30 deg", "--mount-sd", "0 deg", "--json");

            assertThat(result.exitCode()).as(result.err()).isZero();
            JsonNode variance = json(result).get("by_variance");
            assertThat(variance.get("repeatability").get("sd").asDouble()).isBetween(0.3, 2.5); // 1 deg, 6 freedoms
            assertThat(variance.get("units").get("sd").asDouble()).isBetween(6.0, 70.0); // 30 deg, 2 freedoms
            assertThat(variance.get("distinct_categories").asInt()).isGreaterThan(4);
            assertThat(Files.readAllLines(values())).hasSize(2 + 3 * 2 * 2);
        }

        @Test
        void what_mounting_adds_is_found_beside_the_repeats() {
            Cli.Result result = run("--pair", "3-4", "--unit-sd", "0 deg", "--mount-sd", "20 deg", "--json");

            JsonNode variance = json(result).get("by_variance");
            double mounting = Math.hypot(
                    variance.get("reproducibility").get("sd").asDouble(),
                    variance.get("units_with_mounts").get("sd").asDouble());
            assertThat(variance.get("repeatability").get("sd").asDouble()).isBetween(0.3, 2.5);
            assertThat(mounting).isBetween(5.0, 45.0); // 20 deg, 3 to 5 freedoms
        }

        @Test
        void its_values_import_to_the_same_result_and_need_not_be_run_again() throws IOException {
            Cli.Result ran = run("--pair", "3-4", "--json");
            Path values = values();

            Cli.Result imported = study("--import", values.toString(), "--measure", "landing-error", "--json");
            Cli.Result again = run("--pair", "3-4", "--json", "--go-on", values.toString());

            assertThat(json(imported).get("by_variance")).isEqualTo(json(ran).get("by_variance"));
            assertThat(again.out()).isEqualTo(ran.out());
        }

        @Test
        void a_unit_that_misses_a_shift_leaves_no_result_and_its_values_are_kept() {
            Cli.Result result = study(
                    "--rig",
                    "sim:seed=7,fault=missed,pair=3-4,from-cycle=2",
                    "--units",
                    "TD-0101,TD-0102",
                    "--mounts",
                    "2",
                    "--repeats",
                    "2",
                    "--measure",
                    "landing-error",
                    "--pair",
                    "3-4",
                    "--out",
                    folder.toString());

            assertThat(result.exitCode()).isEqualTo(3);
            assertThat(result.out()).isEmpty();
            assertThat(result.err())
                    .contains("unit TD-0101, mount 1, repeat 2: shift 21 is missed")
                    .contains(
                            "No result: 4 values are missing. What was measured is kept; go on with the same command");
        }

        @Test
        void a_rig_that_says_nothing_leaves_nothing() {
            Cli.Result result = study(
                    "--rig",
                    "sim:silent=true",
                    "--units",
                    "TD-0101,TD-0102",
                    "--measure",
                    "overtravel",
                    "--out",
                    folder.toString());

            assertThat(result.exitCode()).isEqualTo(4);
            assertThat(result.out()).isEmpty();
            assertThat(folder).isEmptyDirectory();
        }

        @Test
        void a_plan_that_is_no_study_is_refused_before_anything_moves() {
            Cli.Result result = study(
                    "--rig",
                    "sim",
                    "--units",
                    "TD-0101",
                    "--measure",
                    "landing",
                    "--mounts",
                    "1",
                    "--repeats",
                    "1",
                    "--out",
                    folder.toString());

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err().lines())
                    .satisfiesExactly(
                            line -> assertThat(line).startsWith("--units: names one unit only; "),
                            line -> assertThat(line).startsWith("--mounts 1: is outside 2 to 100; "),
                            line -> assertThat(line).startsWith("--repeats 1: is outside 2 to 100; "),
                            line -> assertThat(line).startsWith("--pair: is missing; "));
            assertThat(folder).isEmptyDirectory();
        }

        @Test
        void sprockets_that_are_no_neighbours_are_refused() {
            Cli.Result result = run("--pair", "3-9");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("--pair 3-9: is no pair of neighbours of profile tarn-drive");
            assertThat(folder).isEmptyDirectory();
        }
    }

    @Nested
    class On_a_real_rig {
        private Cli.Result run(String... more) {
            List<String> all = new ArrayList<>(List.of(
                    "--rig", "serial:/dev/no-such-port", "--units", "TD-0101,TD-0102", "--measure", "overtravel"));
            all.addAll(List.of("--spec", "tarn-drive-end-of-line", "--out", folder.toString()));
            all.addAll(List.of(more));
            return study(all.toArray(String[]::new));
        }

        @Test
        void the_cautions_come_first_and_a_person_has_to_stand_by() {
            Cli.Result result = run();

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err())
                    .contains("CAUTION")
                    .contains("nothing was moved")
                    .contains("add --attended");
        }

        @Test
        void a_person_at_a_terminal_has_to_mount_the_units() {
            Cli.Result result = run("--attended");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("a person at a terminal is asked for each mounting");
            assertThat(folder).isEmptyDirectory();
        }

        @Test
        void a_stop_before_the_persons_word_moves_nothing() {
            try (Cli.Running running = Cli.in(folder)
                    .java("-Dshiftstand.terminal=true", "-Dshiftstand.keyboard=true")
                    .start(
                            "rig",
                            "study",
                            "--rig",
                            "serial:/dev/no-such-port",
                            "--units",
                            "TD-0101,TD-0102",
                            "--measure",
                            "overtravel",
                            "--spec",
                            "tarn-drive-end-of-line",
                            "--attended")) {
                await().atMost(Duration.ofSeconds(60))
                        .until(() ->
                                running.err().contains("Mounting 1 of 6: clamp unit TD-0101 into the rig, mount 1"));
                running.interrupt();

                assertThat(running.result().exitCode()).isEqualTo(130);
                assertThat(running.err()).contains("The study was stopped before unit TD-0101, mount 1.");
            }
            assertThat(folder).isEmptyDirectory();
        }
    }
}
