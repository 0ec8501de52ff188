package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class ImportCommandTest {
    @TempDir
    Path folder;

    /** The first samples of a bench capture: time, sine, cosine, power, current. */
    private static List<String[]> bench() throws IOException {
        try (var in =
                new GZIPInputStream(Files.newInputStream(Path.of("src/test/resources/captures/bench-a.csv.gz")))) {
            return new String(in.readAllBytes(), StandardCharsets.US_ASCII)
                    .lines()
                    .skip(1)
                    .limit(4000)
                    .map(line -> line.split(","))
                    .toList();
        }
    }

    private Path logger(String name, String header, String format) throws IOException {
        var text = new StringBuilder(header);
        for (String[] f : bench()) {
            text.append(String.format(
                    Locale.ROOT, format, Double.parseDouble(f[0]) * 1000, f[1], f[2], Double.parseDouble(f[4]) * 1000));
        }
        return Files.writeString(folder.resolve(name), text);
    }

    private Path semicolons() throws IOException {
        return logger("my logger.csv", "Logger 4\nt [ms];sin;cos;I (mA)\n", "%.3f;%s;%s;%.0f\n");
    }

    @Test
    void says_what_each_column_is_and_why_and_writes_a_mapping_that_measure_takes() throws IOException {
        Path file = semicolons();

        Cli.Result said = Cli.in(folder).run("import", "--dry-run", file.toString());

        assertThat(said.err()).isEmpty();
        assertThat(said.exitCode()).isZero();
        assertThat(said.out())
                .contains("  't [ms]': time_s\n      its header is a word for time\n      in ms as the header says\n")
                .contains("  'sin': hall_sin\n      its header is a word for the sine\n")
                .contains("      circle test: ")
                .contains("  'I (mA)': current_a\n      its header is a word for it\n      in mA as the header says")
                .contains("Mapping: my-logger.mapping.yaml\n");
        String mapping = folder.resolve("my-logger.mapping.yaml").toString();
        Cli.Result measured = Commands.run("measure", file.toString(), "--mapping", mapping);
        Cli.Result plain = Commands.run(
                "import", file.toString(), "--out", folder.resolve("plain.csv").toString());
        assertThat(plain.exitCode()).isZero();
        assertThat(measured.exitCode()).isZero();
        assertThat(measured.out())
                .isEqualTo(Commands.run("measure", folder.resolve("plain.csv").toString())
                        .out());
    }

    @Test
    void a_plain_capture_needs_no_mapping_and_is_copied_sample_by_sample() throws IOException {
        String capture = Path.of("src/test/resources/captures/bench-a.csv.gz").toString();
        Path copy = folder.resolve("copy.csv");

        assertThat(Commands.run("import", "--dry-run", capture).out())
                .contains("This is a plain capture: it needs no mapping.");
        assertThat(Commands.run("import", capture, "--out", copy.toString()).exitCode())
                .isZero();
        assertThat(Commands.run("measure", copy.toString()).out())
                .isEqualTo(Commands.run("measure", capture).out());
    }

    @Test
    void what_is_not_recognised_is_asked_for_with_the_options_to_give() throws IOException {
        Path file = logger("a.csv", "Sample rate 512 Hz\nn,u,v,I\n", "%4$.0f,%2$s,%3$s,%4$.0f\n");

        Cli.Result asked = Commands.run("import", "--dry-run", file.toString());

        assertThat(asked.exitCode()).isEqualTo(ExitCode.BAD_INPUT);
        assertThat(asked.err())
                .contains("a.csv: not recognised: the sample rate: no column is a time (a line above the header reads"
                        + " 'Sample rate 512 Hz'). Tell it with\n    --rate HZ, such as --rate 512\n")
                .contains("a.csv: not recognised: the unit of 'I', which by its header is current_a")
                .contains("    --scale current_a=0.001 for mA\n")
                .endsWith("Nothing was written.\n");
        assertThat(folder.resolve("a.mapping.yaml")).doesNotExist();
        Path mapping = folder.resolve("b.mapping.yaml");
        assertThat(Commands.run(
                                "import",
                                "--dry-run",
                                file.toString(),
                                "--rate",
                                "512",
                                "--scale",
                                "current_a=0.001",
                                "--mapping-out",
                                mapping.toString())
                        .exitCode())
                .isZero();
        assertThat(mapping).content().contains("time: { rate: 512 Hz }").contains("hall_sin: { column: \"u\" }");
    }

    @Test
    void json_says_the_same() throws IOException {
        Cli.Result said = Commands.run(
                "import",
                "--dry-run",
                "--json",
                semicolons().toString(),
                "--mapping-out",
                folder.resolve("m.yaml").toString());

        JsonNode json = new ObjectMapper().readTree(said.out());
        assertThat(json.get("recognised").asBoolean()).isTrue();
        assertThat(json.get("columns").get(1).get("use").asString()).isEqualTo("hall_sin");
        assertThat(json.get("read").get("samples").asInt()).isEqualTo(4000);
    }

    @Test
    void nothing_existing_is_overwritten() throws IOException {
        Path file = semicolons();
        Path mapping = Files.writeString(folder.resolve("m.yaml"), "mine");

        Cli.Result refused = Commands.run("import", "--dry-run", file.toString(), "--mapping-out", mapping.toString());

        assertThat(refused.exitCode()).isEqualTo(ExitCode.BAD_INPUT);
        assertThat(refused.err()).contains("exists already");
        assertThat(mapping).hasContent("mine");
    }

    @Test
    void measure_refuses_another_dialect_and_names_import() throws IOException {
        Cli.Result refused = Commands.run("measure", semicolons().toString());

        assertThat(refused.exitCode()).isEqualTo(ExitCode.BAD_INPUT);
        assertThat(refused.err()).contains("shiftstand import --dry-run");
    }

    @Test
    void options_that_do_not_go_together_are_told_at_once() {
        Cli.Result refused = Commands.run("import", "x.csv", "--mapping", "m.yaml", "--rate", "5");

        assertThat(refused.exitCode()).isEqualTo(ExitCode.BAD_INPUT);
        assertThat(refused.err()).contains("expected --dry-run").contains("--mapping: is given together with options");
    }
}
