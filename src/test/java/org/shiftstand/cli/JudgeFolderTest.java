package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/** Many files at once: each as if it were judged alone, in the order of their names. */
class JudgeFolderTest {
    private static final Path CAPTURES = Path.of("src/test/resources/captures");

    @TempDir
    private Path folder;

    @BeforeEach
    void captures() throws IOException {
        Files.createDirectories(folder.resolve("in/week 2"));
        Files.copy(CAPTURES.resolve("bench-a.csv.gz"), folder.resolve("in/a.csv.gz"));
        Files.copy(CAPTURES.resolve("bench-e.csv.gz"), folder.resolve("in/week 2/e.csv.gz"));
    }

    @Test
    void each_has_a_line_in_the_order_of_names_and_one_that_fails_decides() {
        Cli.Result result = judge("--spec", "passive-capture");

        assertThat(result.out())
                .startsWith("PASS        a.csv.gz  all 10 clauses pass\n"
                        + "FAIL        week 2/e.csv.gz  1 of 10 clauses fails; overtravel-scatter, pair 2→3: 286.8 deg")
                .endsWith("\n\n2 files: 1 PASS, 1 FAIL\n");
        assertThat(result.err()).isEmpty();
        assertThat(result.exitCode()).isEqualTo(1);
    }

    @Test
    void what_cannot_be_judged_is_told_and_stops_no_other() throws IOException {
        Files.delete(folder.resolve("in/week 2/e.csv.gz"));
        Files.writeString(folder.resolve("in/b.csv"), "time_s,hall_sin\n");
        Files.writeString(folder.resolve("in/shifts.csv"), "a table of ours");

        Cli.Result result = judge("--spec", "passive-capture");

        assertThat(result.out())
                .contains("NOT JUDGED  b.csv  see below")
                .contains("PASS        a.csv.gz")
                .endsWith("2 files: 1 PASS, 1 NOT JUDGED\n");
        assertThat(result.err()).contains("b.csv:1").contains("hall_cos");
        assertThat(result.exitCode()).isEqualTo(2);
    }

    @Test
    void a_mistake_they_share_is_told_once() {
        Cli.Result result = judge("--spec", "no-such-spec");

        assertThat(result.err()).containsOnlyOnce("no-such-spec");
        assertThat(result.out()).endsWith("2 files: 2 NOT JUDGED\n");
        assertThat(result.exitCode()).isEqualTo(2);
    }

    @Test
    void each_report_lies_at_the_place_of_its_file() {
        judge("--spec", "passive-capture", "--report", folder.resolve("reports").toString());

        assertThat(folder.resolve("reports/a/report.html")).isNotEmptyFile();
        assertThat(folder.resolve("reports/week 2/e/result.json")).isNotEmptyFile();
    }

    @Test
    void json_is_one_document() {
        Cli.Result result = judge("--spec", "passive-capture", "--json");

        assertThat(result.out())
                .startsWith("{")
                .contains("\"file\": \"a.csv.gz\"", "\"verdict\": \"pass\"", "\"file\": \"week 2/e.csv.gz\"")
                .endsWith("}\n");
        assertThat(result.exitCode()).isEqualTo(1);
    }

    @Test
    void one_file_of_test_results_has_a_suite_for_each() throws Exception {
        Files.writeString(folder.resolve("in/b.csv"), "time_s,hall_sin\n");
        Path junit = folder.resolve("out/results.xml");

        Cli.Result result = judge("--spec", "passive-capture", "--junit", junit.toString());

        assertThat(result.exitCode()).isEqualTo(1);
        Element all = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(junit.toFile())
                .getDocumentElement();
        NodeList suites = all.getElementsByTagName("testsuite");
        assertThat(suites.getLength()).isEqualTo(3);
        assertThat(counts((Element) suites.item(0))).isEqualTo("a.csv.gz: 0 failures, 0 errors");
        assertThat(counts((Element) suites.item(1))).isEqualTo("b.csv: 0 failures, 1 errors");
        assertThat(counts((Element) suites.item(2))).isEqualTo("week 2/e.csv.gz: 2 failures, 0 errors");
        assertThat(all.getAttribute("failures")).isEqualTo("2"); // the unit, and the group
        assertThat(all.getAttribute("errors")).isEqualTo("1");
        assertThat(((Element) all.getElementsByTagName("failure").item(1)).getAttribute("message"))
                .startsWith("pair 2→3: 286.8 deg, allowed at most 60 deg");
    }

    private static String counts(Element suite) {
        return suite.getAttribute("name") + ": " + suite.getAttribute("failures") + " failures, "
                + suite.getAttribute("errors") + " errors";
    }

    @Test
    void test_results_that_are_there_stop_it_before_anything_is_judged() throws IOException {
        Path junit = Files.writeString(folder.resolve("results.xml"), "mine");

        Cli.Result refused = judge("--spec", "passive-capture", "--junit", junit.toString());

        assertThat(refused.exitCode()).isEqualTo(2);
        assertThat(refused.out()).isEmpty();
        assertThat(refused.err())
                .contains("results.xml: exists already, and nothing is overwritten")
                .contains("--force");
        assertThat(junit).hasContent("mine");
    }

    @Test
    void a_folder_without_captures_is_refused() throws IOException {
        Path empty = Files.createDirectory(folder.resolve("empty"));

        Cli.Result result = Commands.run("judge", empty.toString());

        assertThat(result.err()).contains("holds no record or capture; expected files that end in .run");
        assertThat(result.exitCode()).isEqualTo(2);
    }

    private Cli.Result judge(String... more) {
        return Commands.run(
                Stream.concat(Stream.of("judge", folder.resolve("in").toString()), Stream.of(more))
                        .toArray(String[]::new));
    }
}
