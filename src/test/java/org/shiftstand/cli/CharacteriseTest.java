package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** {@code characterise} as a user types it, on halves of bench-a. */
@Timeout(300)
class CharacteriseTest {
    /** The shaft rests so long before a request. */
    private static final double AT_REST_S = 0.3;

    @TempDir
    private static Path folder;

    private static Path first;
    private static Path second;
    private static Path learned;
    private static Cli.Result result;

    @BeforeAll
    static void learn_from_the_first_half() throws IOException {
        List<String> lines = lines("bench-a.csv.gz");
        int half = row(lines, request("bench-a.truth.json", 55) - AT_REST_S);
        first = Files.write(folder.resolve("first.csv"), lines.subList(0, half));
        List<String> rest = new ArrayList<>(lines.subList(half, lines.size()));
        rest.add(0, lines.get(0));
        second = Files.write(folder.resolve("second.csv"), rest);
        learned = folder.resolve("learned");
        result = Commands.run("characterise", first.toString(), "--name", "tarn-drive", "--out", learned.toString());
    }

    private static List<String> lines(String capture) throws IOException {
        try (BufferedReader reader = new BufferedReader(new InputStreamReader(
                new GZIPInputStream(
                        Objects.requireNonNull(CharacteriseTest.class.getResourceAsStream("/captures/" + capture))),
                StandardCharsets.UTF_8))) {
            return reader.lines().toList();
        }
    }

    /** When a shift of the capture was requested, by its truth; shifts are counted from 1. */
    private static double request(String truth, int shift) throws IOException {
        try (var in = Objects.requireNonNull(CharacteriseTest.class.getResourceAsStream("/captures/" + truth))) {
            return tools.jackson.databind.json.JsonMapper.shared()
                    .readTree(in)
                    .get("shifts")
                    .get(shift - 1)
                    .get("request_s")
                    .asDouble();
        }
    }

    private static int row(List<String> lines, double atS) {
        int row = 1;
        while (Double.parseDouble(lines.get(row).split(",")[0]) < atS) {
            row++;
        }
        return row;
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(file -> file.getFileName().toString()).sorted().toList();
        }
    }

    @Test
    void writes_profile_spec_header_numbers_and_page_and_names_each() throws IOException {
        assertThat(result.exitCode()).as(result.err()).isZero();
        assertThat(names(learned))
                .containsExactly(
                        "learned.html",
                        "learned.json",
                        "tarn-drive-learned.spec.yaml",
                        "tarn-drive.profile.yaml",
                        "tarn_drive_learned.h");
        names(learned)
                .forEach(name ->
                        assertThat(result.out()).contains(learned.resolve(name).toString()));
    }

    @Test
    void the_second_half_passes_the_spec_that_was_learned_from_the_first() {
        Cli.Result judged = Commands.run(
                "judge",
                second.toString(),
                "--spec",
                learned.resolve("tarn-drive-learned.spec.yaml").toString());

        assertThat(judged.exitCode()).as(judged.out() + judged.err()).isZero();
    }

    @Test
    void what_stands_there_is_not_overwritten_unless_told() throws IOException {
        Path page = learned.resolve("learned.html");
        String before = Files.readString(page);

        Cli.Result again =
                Commands.run("characterise", first.toString(), "--name", "tarn-drive", "--out", learned.toString());

        assertThat(again.exitCode()).isEqualTo(2);
        assertThat(again.err()).contains("--force");
        assertThat(Files.readString(page)).isEqualTo(before);
        assertThat(Commands.run(
                                "characterise",
                                first.toString(),
                                "--name",
                                "tarn-drive",
                                "--force",
                                "--out",
                                learned.toString())
                        .exitCode())
                .isZero();
    }

    @Test
    void json_follows_its_schema() throws IOException {
        Cli.Result json = Commands.run("characterise", first.toString(), "--json");

        assertThat(json.exitCode()).as(json.err()).isZero();
        assertThat(SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                        .getSchema(Files.readString(Path.of("specs/schema/learned.schema.json")), InputFormat.JSON)
                        .validate(json.out(), InputFormat.JSON))
                .isEmpty();
    }

    @Nested
    class Files_that_cannot_be_learned_from {
        @Test
        void are_all_told_of_at_once_and_nothing_is_written() throws IOException {
            Path empty = Files.writeString(folder.resolve("empty.csv"), "");
            Path out = folder.resolve("nothing");

            Cli.Result bad = Commands.run(
                    "characterise",
                    first.toString(),
                    empty.toString(),
                    folder.resolve("missing.csv").toString(),
                    "--out",
                    out.toString());

            assertThat(bad.exitCode()).isEqualTo(2);
            assertThat(bad.err()).contains("empty.csv").contains("missing.csv").doesNotContain("\tat ");
            assertThat(out).doesNotExist();
        }

        @Test
        void a_capture_without_a_shift_is_named() throws IOException {
            Path still = Files.write(
                    folder.resolve("still.csv"), lines("bench-a.csv.gz").subList(0, 200));

            Cli.Result bad = Commands.run("characterise", still.toString());

            assertThat(bad.exitCode()).as(bad.err()).isEqualTo(2);
            assertThat(bad.err()).startsWith("still.csv: shows no shift");
        }

        @Test
        void sprockets_that_were_never_seen_are_gaps_in_the_header_and_leave_no_profile() throws IOException {
            Path out = folder.resolve("apart");

            Cli.Result apart = Commands.run(
                    "characterise", first.toString(), "--starts-at", "first.csv=3", "--out", out.toString());

            assertThat(apart.exitCode()).as(apart.err()).isZero();
            assertThat(apart.out()).contains("no profile: ");
            assertThat(names(out)).containsExactly("drive_learned.h", "learned.html", "learned.json");
            assertThat(Files.readString(out.resolve("drive_learned.h")))
                    .contains("DRIVE_UNKNOWN, /* sprocket 1: gap: no shift to learn from lands on it or leaves it */");
        }
    }
}
