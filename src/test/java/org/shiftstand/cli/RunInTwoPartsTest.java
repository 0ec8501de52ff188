package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** A run whose line is lost in a shift and comes back, from the rig to result and report: what a reader is told of it. */
@Timeout(120)
class RunInTwoPartsTest {
    private static final String PROCEDURE = """
            procedure: two-parts
            version: 1
            sample-rate: 512 Hz
            on-link-loss: { reconnect: 30 s }
            steps:
              - supply: 8.2 V
              - home: {}
              - sweep: { from: 1, to: last, and-back: true, times: 1, rest: 350 ms }
            """;

    private static final String SPEC = """
            spec: landing-only
            version: 1
            title: Every shift lands
            clauses:
              - id: all-land
                measure: outcome
                is-not: landed
                statistic: count
                at-most: 0
                because: a shift that does not land is a shift that was not made
              - id: landing
                measure: landing-error
                statistic: every
                between: [-70 deg, 70 deg]
                because: farther off the chain rubs
            """;

    @TempDir
    private static Path folder;

    private static Cli.Result result;
    private static Path left;

    @BeforeAll
    static void the_line_is_lost_in_the_shift_from_3_to_4() throws IOException {
        Path procedure = Files.writeString(folder.resolve("two-parts.yaml"), PROCEDURE);
        Path spec = Files.writeString(folder.resolve("landing.spec.yaml"), SPEC);
        Path runs = folder.resolve("runs");
        result = Commands.run(
                "check",
                "--rig",
                "sim:seed=7,unplug-at=12,replug-after=2.5",
                "--procedure",
                procedure.toString(),
                "--spec",
                spec.toString(),
                "--profile",
                "tarn-drive",
                "--unit",
                "TD-0107",
                "--out",
                runs.toString());
        try (Stream<Path> made = Files.list(runs)) {
            left = made.findFirst().orElseThrow();
        }
    }

    private static JsonNode json() throws IOException {
        return JsonMapper.shared().readTree(Files.readString(left.resolve("result.json"), StandardCharsets.UTF_8));
    }

    @Test
    void the_break_alone_harms_no_verdict() throws IOException {
        assertThat(result.exitCode()).as(result.out() + result.err()).isZero();
        assertThat(json().get("verdict").asString()).isEqualTo("pass");
        assertThat(json().get("counts").toString()).isEqualTo("{\"landed\":18}");
    }

    @Test
    void the_terminal_says_it_right_under_the_verdict() {
        assertThat(result.out().lines().skip(1))
                .first()
                .isEqualTo("The run was not made in one piece: it was broken off once and went on; see the notes.");
    }

    @Test
    void the_result_says_where_why_and_how_many_shifts_were_broken_off() throws IOException {
        JsonNode breaks = json().get("breaks");

        assertThat(breaks.size()).isEqualTo(1);
        assertThat(breaks.get(0).get("fromS").asDouble()).isBetween(11.0, 12.0);
        assertThat(breaks.get(0).get("toS").asDouble()).isBetween(14.5, 16.0);
        assertThat(breaks.get(0).get("cause").asString()).contains("unplugged");
        assertThat(breaks.get(0).get("brokenOff").asInt()).isEqualTo(1);
    }

    @Test
    void exactly_one_notice_is_about_it() throws IOException {
        assertThat(json().get("notices").valueStream().map(JsonNode::asString))
                .filteredOn(notice -> notice.contains("broken off") || notice.contains("partial"))
                .singleElement()
                .asString()
                .contains("unplugged", "1 shift was broken off (shift 3)", "by the rest after homing");
    }

    @Test
    void the_shift_table_keeps_it_in_cycle_0_and_the_shift_made_again_in_cycle_1() throws IOException {
        List<String> rows = Files.readAllLines(left.resolve("shifts.csv"));

        assertThat(rows).hasSize(1 + 19);
        assertThat(rows.get(3)).startsWith("3,0,3,4,inboard,partial,").contains("the run was broken off in the shift");
        assertThat(rows.get(4)).startsWith("4,1,3,4,inboard,landed,");
    }

    @Test
    void the_report_says_it_near_the_top_and_marks_it_over_the_cycles() throws IOException {
        String report = Files.readString(left.resolve("report.html"));
        String header = report.substring(report.indexOf("<header>"), report.indexOf("</header>"));

        assertThat(header).contains("The run was not made in one piece.", "1 shift was broken off (shift 3)");
        assertThat(report).contains("Upright lines: the run was broken off there and went on later.");
        assertThat(report).contains("The run was broken off once.");
    }
}
