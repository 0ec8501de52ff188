package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

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
