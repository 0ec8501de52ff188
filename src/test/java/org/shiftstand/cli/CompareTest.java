package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Runs of simulated units, made by {@code check} and held side by side by {@code compare}. */
@Timeout(300)
class CompareTest {
    private static final String SHORT = """
            procedure: short
            version: 1
            sample-rate: 512 Hz
            steps:
              - supply: 8.2 V
              - home: {}
              - sweep: { from: 1, to: last, and-back: true, times: 10, rest: 350 ms }
              - supply: off
            """;

    @TempDir
    private static Path folder;

    private static Path old;
    private static Path same;
    private static Path longer;
    private static Path otherSupply;

    @BeforeAll
    static void make_the_runs() throws IOException {
        Files.writeString(folder.resolve("short.yaml"), SHORT);
        Files.writeString(folder.resolve("weak.yaml"), SHORT.replace("8.2 V", "7.2 V"));
        old = made("old", "sim:seed=41", "short.yaml");
        same = made("same", "sim:seed=42", "short.yaml");
        longer = made("longer", "sim:seed=43,fault=overtravel-long,amount=20,pair=4-3", "short.yaml");
        otherSupply = made("weak", "sim:seed=44", "weak.yaml");
    }

    private static Path made(String name, String rig, String procedure) throws IOException {
        Path out = folder.resolve(name);
        Commands.run(
                "check",
                "--rig",
                rig,
                "--procedure",
                folder.resolve(procedure).toString(),
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "TD-0107",
                "--out",
                out.toString());
        try (Stream<Path> made = Files.walk(out)) {
            Path run = made.filter(file -> file.toString().endsWith(".run"))
                    .findFirst()
                    .orElseThrow();
            return Files.copy(run, folder.resolve(name + ".run"));
        }
    }

    private static Cli.Result compare(Path base, Path candidate, String... more) {
        List<String> arguments = new ArrayList<>(List.of("compare", base.toString(), candidate.toString()));
        arguments.addAll(List.of(more));
        return Commands.run(arguments.toArray(String[]::new));
    }

    @Nested
    class Two_units_that_are_the_same {
        @Test
        void are_equivalent_within_margins_that_ten_cycles_can_show() {
            Cli.Result result = compare(old, same, "--margin", "landing=30deg", "--margin", "overtravel=10deg");

            assertThat(result.exitCode()).as(result.out() + result.err()).isZero();
            assertThat(result.out()).startsWith("EQUIVALENT: all 31 groups inside their margins");
        }

        @Test
        void are_not_decided_within_margins_that_they_cannot_show() {
            Cli.Result result = compare(old, same, "--margin", "landing=3deg");

            assertThat(result.exitCode()).isEqualTo(3);
            assertThat(result.out()).startsWith("NOT DECIDED: ").contains(" shifts more a side with 90 %");
        }
    }

    @Nested
    class One_overtravel_twenty_degrees_longer {
        @Test
        void is_different_and_named() {
            Cli.Result result = compare(old, longer, "--margin", "overtravel=10deg");

            assertThat(result.exitCode()).isEqualTo(1);
            assertThat(result.out())
                    .startsWith("DIFFERENT: 1 of 13 groups different; overtravel, sprocket 3 outboard: ");
        }

        @Test
        void leaves_test_results_a_page_and_a_document_that_follows_its_schema() throws Exception {
            Path junit = folder.resolve("change.xml");
            Path report = folder.resolve("change");

            compare(
                    old,
                    longer,
                    "--margin",
                    "overtravel=10deg",
                    "--junit",
                    junit.toString(),
                    "--report",
                    report.toString());

            Document xml =
                    DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(junit.toFile());
            assertThat(xml.getDocumentElement().getAttribute("failures")).isEqualTo("2"); // the whole, and the one
            Element failure = (Element) xml.getElementsByTagName("failure").item(1);
            assertThat(((Element) failure.getParentNode()).getAttribute("name"))
                    .isEqualTo("overtravel, sprocket 3 outboard");
            assertThat(xml.getElementsByTagName("error").getLength()).isZero();
            Document page = DocumentBuilderFactory.newInstance()
                    .newDocumentBuilder()
                    .parse(report.resolve("comparison.html").toFile());
            assertThat(page.getElementsByTagName("svg").getLength()).isGreaterThan(3);
            assertThat(page.getElementsByTagName("script").getLength()).isZero();
            followsItsSchema(Files.readString(report.resolve("comparison.json")));
        }

        @Test
        void is_told_in_the_same_document_on_standard_output() {
            Cli.Result result = compare(old, longer, "--margin", "overtravel=10deg", "--json");

            followsItsSchema(result.out());
            assertThat(result.out()).contains("\"verdict\": \"different\"");
        }

        private void followsItsSchema(String json) {
            try {
                assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                                .getSchema(
                                        Files.readString(Path.of("specs/schema/comparison.schema.json")),
                                        InputFormat.JSON)
                                .validate(json, InputFormat.JSON))
                        .isEmpty();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    /** Every overtravel of every run is longer by just what is allowed. */
    @Test
    void a_change_exactly_at_the_margin_is_hardly_ever_called_equivalent() throws IOException {
        int groups = 0;
        int wrong = 0;
        for (int seed = 51; seed <= 54; seed++) {
            Path moved = made("moved-" + seed, "sim:seed=" + seed + ",fault=overtravel-long,amount=10", "short.yaml");
            JsonNode result = JsonMapper.shared()
                    .readTree(compare(old, moved, "--margin", "overtravel=10deg", "--json")
                            .out());
            assertThat(result.get("verdict").asString()).as("seed %d", seed).isEqualTo("different");
            for (JsonNode row : result.get("judged")) {
                groups++;
                wrong += row.get("verdict").asString().equals("equivalent") ? 1 : 0;
            }
        }

        assertThat(groups).isEqualTo(4 * 13);
        // 5 % of 52, and 4 standard errors
        assertThat(wrong).isLessThanOrEqualTo(8);
    }

    @Nested
    class Set_ups_that_are_unlike {
        @Test
        void are_refused_with_everything_that_is_unlike_at_once() {
            Cli.Result result = compare(old, otherSupply, "--margin", "landing=30deg");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err().lines())
                    .hasSize(3)
                    .anySatisfy(line -> assertThat(line).startsWith("unlike: procedure: short.yaml, text "))
                    .contains("unlike: supply: 8.2 V (old.run), 7.2 V (weak.run)")
                    .last()
                    .asString()
                    .endsWith("or allow it by name: --unlike procedure,supply");
        }

        @Test
        void are_compared_where_allowed_by_name_and_the_result_says_so() {
            Cli.Result result = compare(old, otherSupply, "--margin", "landing=40deg", "--unlike", "procedure,supply");

            assertThat(result.exitCode()).as(result.err()).isNotEqualTo(2);
            assertThat(result.out()).contains("unlike, allowed: supply: 8.2 V (old.run), 7.2 V (weak.run)");
        }

        @Test
        void of_a_record_and_a_capture_are_everything_that_a_capture_does_not_tell() throws Exception {
            Path capture = Path.of(
                    CompareTest.class.getResource("/captures/bench-a.csv.gz").toURI());

            Cli.Result result = compare(old, capture, "--margin", "landing=40deg");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("unlike: unit: TD-0107 (old.run), not known (bench-a.csv.gz)");
        }
    }

    @Nested
    class Bad_usage {
        @Test
        void is_told_all_at_once() {
            Cli.Result result = compare(
                    old,
                    same,
                    "--margin",
                    "landin=6deg",
                    "--margin",
                    "hold",
                    "--margin",
                    "hold=6deg",
                    "--unlike",
                    "rigg");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err().lines()).hasSize(4);
            assertThat(result.err())
                    .contains("--margin landin=6deg: unknown measure 'landin'")
                    .contains("Did you mean 'landing'?")
                    .contains("--margin hold: is no margin; expected MEASURE=AMOUNT")
                    .contains("--margin hold=6deg: at-most is 6 deg; hold is a duration")
                    .contains("--unlike rigg: is unknown")
                    .contains("Did you mean 'rig'?");
        }

        @Test
        void a_run_that_counts_twice() {
            Cli.Result result = Commands.run("compare", old + "," + old, same.toString(), "--margin", "landing=30deg");

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err())
                    .contains("BASE: old.run holds the same samples as old.run; expected each run once");
        }

        @Test
        void a_file_that_is_not_there() {
            Cli.Result result = compare(folder.resolve("missing.run"), same);

            assertThat(result.exitCode()).isEqualTo(2);
            assertThat(result.err()).contains("missing.run: ").doesNotContain("Exception");
        }
    }

    @Test
    void a_run_alone_has_no_verdict_by_a_spec_about_a_change() {
        Cli.Result result = Commands.run("judge", old.toString(), "--spec", "tarn-drive-firmware-change");

        assertThat(result.exitCode()).isEqualTo(3);
        assertThat(result.out()).contains("shiftstand compare BASE CANDIDATE --spec");
    }
}
