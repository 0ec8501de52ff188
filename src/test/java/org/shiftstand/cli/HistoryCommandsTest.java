package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The history as people type it. */
class HistoryCommandsTest {
    @TempDir
    Path folder;

    private Path runs;

    @BeforeEach
    void three_runs_in_three_forms_and_one_of_them_twice() throws IOException {
        runs = Files.createDirectory(folder.resolve("runs"));
        archived("TD-1", "bench-a.csv.gz", "one");
        archived("TD-1", "bench-a.csv.gz", "one-again.zip");
        archived("TD-2", "bench-b.csv.gz", "two.tar.gz");
        Path beside = Files.createDirectory(runs.resolve("as-a-check-leaves-it"));
        Files.copy(Path.of("reports/sample/result.json"), beside.resolve("result.json"));
    }

    private void archived(String unit, String capture, String name) {
        assertThat(Commands.run(
                        "archive",
                        "src/test/resources/captures/" + capture,
                        "--spec",
                        "passive-capture",
                        "--unit",
                        unit,
                        "--out",
                        runs.resolve(name).toString()))
                .matches(r -> r.exitCode() == 0, "archived");
    }

    private Cli.Result history(String... arguments) {
        List<String> all = new ArrayList<>(List.of("history"));
        all.addAll(List.of(arguments));
        all.addAll(List.of("--history", folder.resolve("history.db").toString()));
        return Commands.run(all.toArray(String[]::new));
    }

    private static JsonNode json(Cli.Result result) {
        return JsonMapper.shared().readTree(result.out()); // fails where anything else was printed
    }

    @Test
    void is_made_again_from_every_form_and_a_second_time_adds_nothing() {
        Cli.Result first = history("rebuild", runs.toString());
        String list = history("list", "--json").out();
        Cli.Result second = history("rebuild", runs.toString());
        Cli.Result anew = history("rebuild", runs.toString(), "--anew");

        assertThat(first.out()).isEqualToNormalizingNewlines("4 results found: 3 added, 1 there already.\n");
        assertThat(second.out()).startsWith("4 results found: 0 added, 4 there already.");
        assertThat(anew.out()).startsWith("4 results found: 3 added, 1 there already.");
        assertThat(List.of(first, second, anew))
                .allSatisfy(r -> assertThat(r.exitCode()).isZero());
        assertThat(history("list", "--json").out()).isEqualTo(list);
    }

    @Test
    void a_damaged_bag_is_named_and_the_others_are_used() throws IOException {
        Path result = runs.resolve("one/data/result.json");
        Files.writeString(result, Files.readString(result).replace("TD-1", "TD-9"));
        byte[] packed = Files.readAllBytes(runs.resolve("two.tar.gz"));
        Files.write(runs.resolve("two.tar.gz"), java.util.Arrays.copyOf(packed, packed.length / 2));

        Cli.Result rebuilt = history("rebuild", runs.toString());

        assertThat(rebuilt.exitCode()).isEqualTo(1);
        assertThat(rebuilt.err())
                .contains(runs.resolve("one").toString())
                .contains(runs.resolve("two.tar.gz").toString());
        assertThat(rebuilt.out())
                .startsWith("2 results found: 2 added, 0 there already, and ")
                .contains("not usable");
        assertThat(history("list").out()).doesNotContain("TD-9").doesNotContain("TD-2");
    }

    @Test
    void lists_shows_follows_and_exports() throws IOException {
        history("rebuild", runs.toString());
        Path csv = folder.resolve("runs.csv");
        Path page = folder.resolve("trend.html");

        JsonNode list = json(history("list", "--json", "--unit", "TD-1"));
        JsonNode shown =
                json(history("show", list.path("runs").path(0).path("key").asString(), "--json"));
        JsonNode trend = json(history("trend", "--json", "--html", page.toString()));
        Cli.Result exported = history("export", "--csv", csv.toString());

        assertThat(list.path("all").asInt()).isEqualTo(1);
        assertThat(shown.path("runs").path(0).path("unit").asString()).isEqualTo("TD-1");
        assertThat(shown.path("runs").path(0).path("clauses").size()).isPositive();
        assertThat(trend.path("units").asInt()).isPositive();
        assertThat(page).content().startsWith("<!DOCTYPE html>").contains("How the units did");
        assertThat(exported.out()).startsWith("3 runs in ");
        assertThat(Files.readAllLines(csv))
                .hasSizeGreaterThan(3)
                .first()
                .asString()
                .startsWith("key,unit,kind");
        assertThat(history("export", "--csv", csv.toString()).err()).contains("exists already");
    }

    @Test
    void everything_that_is_wrong_is_told_at_once() {
        Cli.Result result =
                history("list", "--limit", "0", "--verdict", "good", "--from", "yesterday", "--to", "2026-13-01");

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err())
                .contains("--limit 0")
                .contains("--verdict good")
                .contains("--from yesterday")
                .contains("--to 2026-13-01");
        assertThat(history("show", "TD-404").err()).contains("is no unit and no key of a run");
        assertThat(history("rebuild", "nowhere", "nowhere-else").err())
                .contains("nowhere: ")
                .contains("nowhere-else: ");
    }
}
