package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;
import tools.jackson.databind.node.ArrayNode;
import tools.jackson.databind.node.ObjectNode;

/** The whole way, from the first request to the report, on three simulated units. */
@Timeout(300)
class DemoTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final List<String> UNITS = List.of("TD-0101", "TD-0102", "TD-0103");

    @TempDir
    private static Path folder;

    private static Cli.Result seven;

    @BeforeAll
    static void run_the_demo() {
        seven = Commands.run(
                "demo", "--seed", "7", "--out", folder.resolve("seven").toString());
    }

    private static Path run(String demo, String unit) throws IOException {
        try (Stream<Path> runs = Files.list(folder.resolve(demo))) {
            return runs.filter(run -> run.getFileName().toString().startsWith(unit + "-"))
                    .findFirst()
                    .orElseThrow();
        }
    }

    private static JsonNode result(Path file) throws IOException {
        return JSON.readTree(Files.readString(file));
    }

    @Test
    void each_verdict_is_the_expected_one_and_names_what_decided() {
        assertThat(seven.exitCode()).as(seven.out()).isZero();
        assertThat(seven.err()).isEmpty();
        assertThat(seven.out())
                .contains("TD-0101  PASS        24 sweeps,  432 shifts")
                .contains("TD-0102  FAIL       152 sweeps, 2736 shifts")
                .contains("TD-0103  FAIL        24 sweeps,  432 shifts")
                .contains("         creep: ")
                .contains("         overtravel-inboard-small: sprocket 4: ")
                .contains("Each verdict is the expected one.");
    }

    @Test
    void every_unit_has_its_record_report_result_and_table() throws IOException {
        for (String unit : UNITS) {
            Path run = run("seven", unit);
            assertThat(seven.out()).contains(run.resolve("report.html").toString());
            for (String name : List.of(unit + ".run", "report.html", "result.json", "shifts.csv")) {
                assertThat(run.resolve(name)).isNotEmptyFile();
            }
            try (Stream<Path> files = Files.list(run)) {
                assertThat(files).as("nothing else is left").hasSize(4);
            }
        }
    }

    @Test
    void a_seed_gives_the_same_shift_tables_and_another_one_other_numbers_with_the_same_verdicts() throws IOException {
        Cli.Result again = Commands.run(
                "demo", "--seed", "7", "--out", folder.resolve("again").toString());
        Cli.Result eight = Commands.run(
                "demo", "--seed", "8", "--out", folder.resolve("eight").toString());

        assertThat(again.exitCode()).isZero();
        assertThat(eight.exitCode()).as(eight.out()).isZero();
        for (String unit : UNITS) {
            byte[] table = Files.readAllBytes(run("seven", unit).resolve("shifts.csv"));
            assertThat(Files.readAllBytes(run("again", unit).resolve("shifts.csv")))
                    .isEqualTo(table);
            assertThat(Files.readAllBytes(run("eight", unit).resolve("shifts.csv")))
                    .isNotEqualTo(table);
            assertThat(withoutDate(run("again", unit))).isEqualTo(withoutDate(run("seven", unit)));
        }
    }

    /** A report of the same record is the same but for the line with its date. */
    private static String withoutDate(Path run) throws IOException {
        String html = Files.readString(run.resolve("report.html"));
        List<String> lines = html.lines().toList();
        List<String> kept = lines.stream()
                .filter(line -> !line.contains("<p>Report <time datetime="))
                .toList();
        assertThat(lines.size() - kept.size()).as("date lines").isEqualTo(1);
        return String.join("\n", kept);
    }

    /** The page that the README shows; after a change of results copy it anew, as DEVELOPERS.md says. */
    @Test
    void the_committed_sample_is_what_the_demo_makes() throws IOException {
        assertThat(Files.readString(run("seven", "TD-0103").resolve("shifts.csv")))
                .isEqualTo(Files.readString(Path.of("reports/sample/shifts.csv")));
    }

    @Test
    void judging_a_record_again_gives_the_same_clauses_to_the_digit() throws IOException {
        for (String unit : UNITS) {
            Path run = run("seven", unit);

            Cli.Result again = Commands.run("judge", run.resolve(unit + ".run").toString(), "--json");

            assertThat(again.out()).isEqualTo(Files.readString(run.resolve("result.json")));
        }
    }

    @Test
    void a_named_spec_goes_before_the_records_own_and_gives_the_same_clauses() throws IOException {
        Path run = run("seven", "TD-0103");

        Cli.Result again = Commands.run(
                "judge", run.resolve("TD-0103.run").toString(), "--spec", "tarn-drive-end-of-line", "--json");

        assertThat(again.exitCode()).isEqualTo(1);
        assertThat(JSON.readTree(again.out()).get("clauses"))
                .isEqualTo(result(run.resolve("result.json")).get("clauses"));
    }

    @Test
    void raising_the_deciding_bound_turns_the_verdict() throws IOException {
        assertThat(verdict("TD-0102", "between: [-25 deg, 25 deg]", "between: [-60 deg, 60 deg]"))
                .isEqualTo("pass");
        assertThat(verdict("TD-0103", "between: [240 deg, 360 deg]", "between: [100 deg, 360 deg]"))
                .isEqualTo("pass");
        assertThat(verdict("TD-0101", "at-most: 18 deg", "at-most: 1 deg")).isEqualTo("fail");
    }

    @Test
    void the_late_fault_is_not_in_the_first_twenty_sweeps() throws IOException {
        String text = Files.readString(Path.of("specs/tarn-drive-end-of-line.spec.yaml"));
        String first = text.replaceAll("where: \\{ ", "where: { cycle: 1..20, ")
                .replaceAll("(?m)^(    measure: .*)$(?!\\n    where)", "$1\n    where: { cycle: 1..20 }");
        Path spec = spec("first-20.spec.yaml", first);

        Cli.Result judged = Commands.run(
                "judge",
                run("seven", "TD-0102").resolve("TD-0102.run").toString(),
                "--spec",
                spec.toString(),
                "--json");

        JsonNode document = JSON.readTree(judged.out());
        assertThat(document.get("verdict").asString())
                .as(document.get("reason").asString())
                .isEqualTo("pass");
        assertThat(groupShifts(document)).isLessThanOrEqualTo(20 * 18);
    }

    /** Most measured shifts of any group. */
    private static int groupShifts(JsonNode document) {
        int most = 0;
        for (JsonNode clause : (ArrayNode) document.get("clauses")) {
            for (JsonNode group : (ArrayNode) ((ObjectNode) clause).get("groups")) {
                most = Math.max(most, group.get("n").asInt());
            }
        }
        return most;
    }

    private static String verdict(String unit, String bound, String other) throws IOException {
        String text = Files.readString(Path.of("specs/tarn-drive-end-of-line.spec.yaml"));
        assertThat(text).contains(bound);
        Path spec = spec(unit + ".spec.yaml", text.replace(bound, other));
        Cli.Result judged = Commands.run(
                "judge", run("seven", unit).resolve(unit + ".run").toString(), "--spec", spec.toString(), "--json");
        return JSON.readTree(judged.out()).get("verdict").asString();
    }

    private static Path spec(String name, String text) throws IOException {
        Files.copy(
                Path.of("specs/tarn-drive.profile.yaml"),
                folder.resolve("tarn-drive.profile.yaml"),
                java.nio.file.StandardCopyOption.REPLACE_EXISTING);
        return Files.writeString(folder.resolve(name), text);
    }
}
