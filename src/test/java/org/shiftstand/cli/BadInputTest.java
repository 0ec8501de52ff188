package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.RandomAccessFile;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** What a user may get wrong: exit 2 or 4, one clear message, no stack trace, nothing that looks like a finished report. */
@Timeout(120)
class BadInputTest {
    private static final String CAPTURE = "src/test/resources/captures/bench-a.csv.gz";
    private static final String PASSIVE = "specs/passive-capture.spec.yaml";

    @TempDir
    private Path folder;

    private Cli.Result refused(int code, String... arguments) {
        Cli.Result result = Commands.run(arguments);
        assertThat(result.exitCode()).as(result.err()).isEqualTo(code);
        assertThat(result.out()).isEmpty();
        assertThat(result.err()).isNotBlank().doesNotContain("Exception", "\tat ", "org.shiftstand");
        return result;
    }

    private Path file(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    private void judgingIsRefused(Path capture, String... words) {
        Path report = folder.resolve("report");
        Cli.Result result = refused(2, "judge", capture.toString(), "--spec", PASSIVE, "--report", report.toString());
        assertThat(result.err()).contains(capture.getFileName().toString()).contains(words);
        assertThat(report.resolve("report.html")).doesNotExist();
        assertThat(report.resolve("result.json")).doesNotExist();
    }

    @Test
    void a_missing_file() {
        judgingIsRefused(folder.resolve("none.csv"), "no such file");
    }

    @Test
    void an_empty_file() throws IOException {
        judgingIsRefused(file("empty.csv", ""), "empty");
    }

    @Test
    void a_header_without_a_required_column_names_the_nearest() throws IOException {
        judgingIsRefused(
                file("header.csv", "time_s,hall_sine,hall_cos\n0,1,2\n"), ":1", "hall_sin", "hall_sine", "--column");
    }

    @Test
    void text_in_a_number() throws IOException {
        judgingIsRefused(
                file("text.csv", "time_s,hall_sin,hall_cos\n0,1,2\n0.1,x,3\n0.2,1,2\n"), ":3", "hall_sin", "x");
    }

    @Test
    void not_a_number() throws IOException {
        judgingIsRefused(file("nan.csv", "time_s,hall_sin,hall_cos\n0,1,2\n0.1,NaN,3\n0.2,1,2\n"), ":3", "NaN");
    }

    @Test
    void time_that_goes_back() throws IOException {
        judgingIsRefused(
                file("back.csv", "time_s,hall_sin,hall_cos\n0,1,2\n0.2,1,3\n0.1,1,2\n0.3,1,2\n"),
                ":4",
                "time goes back");
    }

    @Test
    void a_wrong_encoding() throws IOException {
        Path capture = folder.resolve("utf16.csv");
        Files.write(capture, "time_s,hall_sin,hall_cos\n0,1,2\n".getBytes(StandardCharsets.UTF_16LE));
        judgingIsRefused(capture, "UTF-");
    }

    @Test
    void a_compressed_file_cut_short() throws IOException {
        byte[] whole = Files.readAllBytes(Path.of(CAPTURE));
        Path capture = folder.resolve("cut.csv.gz");
        Files.write(capture, java.util.Arrays.copyOf(whole, whole.length / 2));
        judgingIsRefused(capture, "cut short");
    }

    @Test
    void two_gigabytes_of_zero_bytes() throws IOException {
        Path capture = folder.resolve("zeros.csv");
        try (RandomAccessFile sparse = new RandomAccessFile(capture.toFile(), "rw")) {
            sparse.setLength(2L << 30);
        }
        judgingIsRefused(capture, "NUL byte");
    }

    @Test
    void a_last_line_cut_short_is_dropped_with_a_notice() throws IOException {
        Path capture = folder.resolve("logger.csv");
        try (var in = new java.util.zip.GZIPInputStream(Files.newInputStream(Path.of(CAPTURE)))) {
            byte[] whole = in.readAllBytes();
            Files.write(capture, java.util.Arrays.copyOf(whole, whole.length - 12));
        }

        Cli.Result result = Commands.run("measure", capture.toString());

        assertThat(result.exitCode()).isZero();
        assertThat(result.err()).contains("note: ").contains("cut short");
        assertThat(result.lines()).hasSize(1 + 108);
    }

    @Test
    void a_spec_with_a_misspelt_key_and_a_wrong_unit_tells_both_at_once() throws IOException {
        Path spec = file("tarn.spec.yaml", """
                spec: tarn
                version: 1
                clauses:
                  - id: ringing
                    measure: ringing
                    statistic: maximun
                    at-most: 20 deg
                  - id: return
                    measure: return-ringing
                    statistic: maximum
                    at-most: 20 ms
                  - id: hold
                    measure: hold
                    statistik: every
                    at-least: 600 ms
                """);

        Cli.Result result = refused(2, "judge", CAPTURE, "--spec", spec.toString());

        assertThat(result.err())
                .contains("tarn.spec.yaml:6:16: ", "maximun", "Did you mean 'maximum'?")
                .contains("tarn.spec.yaml:11:14: ", "ms", "deg")
                .contains("tarn.spec.yaml:14:5: ", "statistik", "Did you mean 'statistic'?");
    }

    @Test
    void yaml_aliases_and_deep_nesting() throws IOException {
        Path aliases = file("alias.spec.yaml", "spec: &a tarn\nversion: 1\ntitle: *a\nclauses: []\n");
        Path deep =
                file("deep.spec.yaml", "spec: tarn\nversion: 1\nclauses: " + "[".repeat(60) + "]".repeat(60) + "\n");

        assertThat(refused(2, "spec", "lint", aliases.toString()).err()).contains("alias.spec.yaml:", "alias");
        assertThat(refused(2, "spec", "lint", deep.toString()).err()).contains("deep.spec.yaml:3:", "32");
    }

    @Test
    void a_bound_that_no_statistic_can_have() throws IOException {
        Path spec = file("never.spec.yaml", """
                spec: tarn
                version: 1
                clauses:
                  - id: spread
                    measure: hold
                    statistic: standard-deviation
                    at-most: -3 ms
                """);

        assertThat(refused(2, "spec", "lint", spec.toString()).err()).contains("never.spec.yaml:7:", "-3 ms");
    }

    @Test
    void a_profile_with_positions_out_of_order() throws IOException {
        String text = Files.readString(Path.of("specs/tarn-drive.profile.yaml")).replace("1455 deg", "455 deg");
        Path profile = file("bad.profile.yaml", text);

        assertThat(refused(2, "measure", CAPTURE, "--profile", profile.toString())
                        .err())
                .contains("bad.profile.yaml:", "455 deg");
    }

    @Test
    void an_unknown_rig_address() {
        assertThat(check("usb:3").err()).contains("--rig usb:3", "sim", "serial:PATH");
        assertThat(check("sim:sead=7").err()).contains("sead", "seed");
    }

    @Test
    void a_unit_id_that_climbs_out_of_its_folder() {
        Cli.Result result = refused(
                2,
                "check",
                "--rig",
                "sim",
                "--procedure",
                "quick-look",
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "../TD-0107",
                "--out",
                folder.toString());

        assertThat(result.err()).contains("../TD-0107", "no unit id");
        assertThat(folder).isEmptyDirectory();
    }

    @Test
    void a_serial_port_that_is_no_port() throws IOException {
        Path plain = file("port", "");

        for (String path : List.of(plain.toString(), folder.resolve("none").toString())) {
            Cli.Result result = Commands.run(
                    "check",
                    "--rig",
                    "serial:" + path,
                    "--procedure",
                    "quick-look",
                    "--spec",
                    "tarn-drive-end-of-line",
                    "--unit",
                    "TD-0107",
                    "--attended",
                    "--out",
                    folder.resolve("out").toString());

            assertThat(result.exitCode()).isEqualTo(4);
            assertThat(result.err()).contains(path).doesNotContain("Exception", "\tat ");
            assertThat(folder.resolve("out")).doesNotExist();
        }
    }

    @Test
    void a_rig_that_never_answers_or_speaks_another_protocol() {
        Path out = folder.resolve("out");
        for (String rig : List.of("sim:silent=true", "sim:protocol=9")) {
            Cli.Result result = Commands.run(
                    "check",
                    "--rig",
                    rig,
                    "--procedure",
                    "quick-look",
                    "--spec",
                    "tarn-drive-end-of-line",
                    "--unit",
                    "TD-0107",
                    "--out",
                    out.toString());

            assertThat(result.exitCode()).as(result.err()).isEqualTo(4);
            assertThat(result.err()).isNotBlank().doesNotContain("Exception", "\tat ");
            assertThat(out).doesNotExist();
        }
    }

    @Test
    void a_real_rig_moves_only_when_a_person_stands_by() throws IOException {
        Cli.Result result = refused(
                2,
                "check",
                "--rig",
                "serial:/dev/null",
                "--procedure",
                "quick-look",
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "TD-0107");

        assertThat(result.err()).contains("CAUTION", "pinches", "--attended", "nothing was moved");
    }

    @Test
    void an_unknown_command_or_option_names_the_nearest() {
        assertThat(refused(2, "mesure", CAPTURE).err()).contains("mesure", "measure");
        assertThat(refused(2, "measure", CAPTURE, "--profil", "x").err()).contains("--profil", "--profile");
    }

    @Test
    void a_report_is_never_written_over_another() throws IOException {
        Path report = Files.createDirectory(folder.resolve("report"));
        Files.writeString(report.resolve("report.html"), "mine");

        Cli.Result result = refused(2, "judge", CAPTURE, "--spec", PASSIVE, "--report", report.toString());

        assertThat(result.err()).contains("report.html", "exists already", "--force");
        assertThat(Files.readString(report.resolve("report.html"))).isEqualTo("mine");
        try (Stream<Path> files = Files.list(report)) {
            assertThat(files).hasSize(1);
        }
    }

    @Test
    void an_output_that_cannot_be_written() throws IOException {
        Path plain = file("plain", "");

        assertThat(refused(
                                2,
                                "measure",
                                CAPTURE,
                                "--out",
                                plain.resolve("shifts.csv").toString())
                        .err())
                .contains("shifts.csv", "cannot be written");
    }

    private Cli.Result check(String rig) {
        return refused(
                2,
                "check",
                "--rig",
                rig,
                "--procedure",
                "quick-look",
                "--spec",
                "tarn-drive-end-of-line",
                "--unit",
                "TD-0107",
                "--out",
                folder.toString());
    }
}
