package org.shiftstand.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.bench.RigDescriptionReader;

/** A workspace is whole, reads, can be tried at once, and is never written over another. */
@Timeout(120)
class InitTest {
    @TempDir
    private Path folder;

    private Path workspace(String... options) {
        Path made = folder.resolve("my-drive");
        Cli.Result result = Commands.run(Stream.concat(Stream.of("init", made.toString()), Stream.of(options))
                .toArray(String[]::new));
        assertThat(result.exitCode()).as(result.err()).isZero();
        assertThat(result.err()).as("nobody is asked in a pipe").isEmpty();
        return made;
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(file -> file.getFileName().toString()).sorted().toList();
        }
    }

    private Cli.Result lint(Path made) {
        return Commands.run(
                "spec",
                "lint",
                made.resolve("my-drive-end-of-line.spec.yaml").toString(),
                "--procedure",
                made.resolve("end-of-line.procedure.yaml").toString());
    }

    @ParameterizedTest
    @ValueSource(ints = {3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16})
    void for_any_number_of_sprockets_the_files_are_right(int sprockets) throws IOException {
        Path made = workspace("--sprockets", String.valueOf(sprockets));

        Cli.Result result = lint(made);
        assertThat(result.err()).isEmpty();
        assertThat(result.exitCode()).isZero();
        assertThat(RigDescriptionReader.find(made.resolve("bench-one.rig.yaml").toString())
                        .name())
                .isEqualTo("bench-one");
        assertThat(Files.readString(made.resolve("my-drive.profile.yaml")))
                .contains("sprockets: " + sprockets, "EXAMPLE FIGURES", "To be measured or learned");
    }

    @Test
    void ten_sprockets_have_the_figures_of_the_packed_example_and_others_say_how_they_were_laid() throws IOException {
        String ten = Files.readString(workspace("--sprockets", "10").resolve("my-drive.profile.yaml"));
        String twelve =
                Files.readString(workspace("--sprockets", "12", "--force").resolve("my-drive.profile.yaml"));

        assertThat(ten).contains("712 deg, 1455 deg").doesNotContain("laid over");
        assertThat(twelve)
                .contains("laid over the same travel for 12 sprockets")
                .contains("shiftstand cassette tarn-drive --sprockets 12")
                .contains("6680 deg");
    }

    @Test
    void where_a_count_leaves_no_room_the_profile_says_so() throws IOException {
        assertThat(Files.readString(workspace("--sprockets", "16").resolve("my-drive.profile.yaml")))
                .contains("NO ROOM");
        assertThat(Files.readString(workspace("--sprockets", "10", "--force").resolve("my-drive.profile.yaml")))
                .doesNotContain("NO ROOM");
    }

    @Test
    void a_simulated_unit_of_that_kind_passes() {
        Path made = workspace("--sprockets", "12");

        Cli.Result result = Commands.run(
                "check",
                "--rig",
                "sim:seed=7",
                "--rig-description",
                made.resolve("bench-one.rig.yaml").toString(),
                "--spec",
                made.resolve("my-drive-end-of-line.spec.yaml").toString(),
                "--procedure",
                made.resolve("end-of-line.procedure.yaml").toString(),
                "--unit",
                "TRY-1",
                "--no-history",
                "--out",
                folder.resolve("reports").toString());

        assertThat(result.exitCode()).as(result.out() + result.err()).isZero();
    }

    @Test
    void names_and_port_go_where_they_belong() throws IOException {
        Path made = workspace(
                "--name", "fen-drive", "--rig-name", "stand-two", "--port", "/dev/serial/by-id/usb-Rig_1-if00");

        assertThat(names(made))
                .containsExactly(
                        "NEXT.md",
                        "end-of-line.procedure.yaml",
                        "fen-drive-end-of-line.spec.yaml",
                        "fen-drive.profile.yaml",
                        "stand-two.rig.yaml");
        assertThat(Files.readString(made.resolve("stand-two.rig.yaml")))
                .contains("rig: stand-two", "port: /dev/serial/by-id/usb-Rig_1-if00,");
        assertThat(Files.readString(made.resolve("NEXT.md")))
                .contains("--rig serial:/dev/serial/by-id/usb-Rig_1-if00")
                .doesNotContain("${");
    }

    @Test
    void what_exists_is_never_overwritten_and_nothing_else_is_written_either() throws IOException {
        Path made = Files.createDirectories(folder.resolve("my-drive"));
        Files.writeString(made.resolve("end-of-line.procedure.yaml"), "mine");

        Cli.Result result = Commands.run("init", made.toString());

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err()).contains("end-of-line.procedure.yaml: exists already", "--force");
        assertThat(names(made)).containsExactly("end-of-line.procedure.yaml");
        assertThat(Files.readString(made.resolve("end-of-line.procedure.yaml"))).isEqualTo("mine");
    }

    @Test
    void a_file_that_cannot_be_placed_leaves_all_as_it_was_also_with_force() throws IOException {
        Path made = Files.createDirectories(folder.resolve("my-drive"));
        Files.writeString(made.resolve("my-drive.profile.yaml"), "mine");
        Files.createDirectories(made.resolve(".partial-NEXT.md/in-the-way"));

        Cli.Result result = Commands.run("init", made.toString(), "--force");

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err()).contains("nothing was changed");
        assertThat(names(made)).containsExactly(".partial-NEXT.md", "my-drive.profile.yaml");
        assertThat(Files.readString(made.resolve("my-drive.profile.yaml"))).isEqualTo("mine");
    }

    @Test
    void every_wrong_value_is_told_at_once_and_no_folder_is_made() {
        Path made = folder.resolve("new");

        Cli.Result result = Commands.run(
                "init", made.toString(), "--name", "My Drive", "--sprockets", "99", "--port", "a b", "--rig-name", "");

        assertThat(result.exitCode()).isEqualTo(2);
        assertThat(result.err()).contains("--name My Drive", "--sprockets 99", "--port a b", "--rig-name ''");
        assertThat(made).doesNotExist();
    }

    @Test
    void on_a_terminal_it_asks_and_takes_what_is_typed() {
        Path made = folder.resolve("asked");

        Cli.Result result = Cli.in(folder)
                .java("-Dshiftstand.terminal=true", "-Dshiftstand.keyboard=true", "-XX:TieredStopAtLevel=1")
                .typing("Fen\nfen-drive\n\n/dev/ttyUSB9\n\n")
                .run("init", made.toString());

        assertThat(result.exitCode()).as(result.err()).isZero();
        assertThat(result.err())
                .contains("Name of the kind of unit [asked]: ", "'Fen' is no name; expected")
                .contains("Sprockets of its cassette [10]: ", "Serial port of the rig [");
        assertThat(made.resolve("fen-drive.profile.yaml")).exists();
        assertThat(made.resolve("bench-one.rig.yaml")).content().contains("port: /dev/ttyUSB9,");
    }
}
