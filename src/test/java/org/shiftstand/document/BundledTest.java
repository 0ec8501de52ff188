package org.shiftstand.document;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.Bundled.Kind;

class BundledTest {
    @TempDir
    Path folder;

    /** The list in {@link Bundled} is written by hand, since a class path cannot be listed. */
    @Test
    void every_file_of_the_folders_is_packed_and_listed() throws Exception {
        var listed = Stream.of(Kind.values())
                .flatMap(kind -> Bundled.paths(kind).stream())
                .sorted()
                .toList();

        assertThat(listed)
                .isEqualTo(Stream.of("acceptance", "rig", "specs")
                        .flatMap(BundledTest::written)
                        .toList());
        for (Kind kind : Kind.values()) {
            for (String path : Bundled.paths(kind)) {
                assertThat(Bundled.find(path, kind).text()).as(path).isNotBlank();
            }
        }
    }

    private static Stream<String> written(String folder) {
        try (Stream<Path> files = Files.walk(Path.of(folder))) {
            List<String> found = files.map(path -> path.toString().replace('\\', '/'))
                    .filter(path -> path.endsWith(".yaml") || path.endsWith(".csv"))
                    .sorted()
                    .toList();
            return found.stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"acceptance/end-of-line.yaml", "end-of-line.yaml", "end-of-line"})
    void a_procedure_goes_by_its_path_its_file_name_or_its_plain_name(String typed) {
        assertThat(Bundled.find(typed, Kind.PROCEDURE).text()).contains("procedure: end-of-line");
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "specs/tarn-drive-end-of-line.spec.yaml",
                "tarn-drive-end-of-line.spec.yaml",
                "tarn-drive-end-of-line.spec",
                "tarn-drive-end-of-line"
            })
    void a_spec_goes_by_its_path_its_file_name_or_its_plain_name(String typed) {
        assertThat(Bundled.find(typed, Kind.SPEC).text()).contains("spec: tarn-drive-end-of-line");
    }

    @Test
    void a_file_on_disk_goes_first() throws Exception {
        Path mine = Files.writeString(folder.resolve("end-of-line.yaml"), "procedure: mine\n");

        assertThat(Bundled.find(mine.toString(), Kind.PROCEDURE).text()).isEqualTo("procedure: mine\n");
    }

    @Test
    void an_unknown_name_is_told_the_nearest_and_what_there_is() {
        assertThatThrownBy(() -> Bundled.find("end-of-lime", Kind.PROCEDURE))
                .isInstanceOf(BadInput.class)
                .hasMessage(
                        "end-of-lime: no such file; expected the path of a procedure, or one packed with the program:"
                                + " acceptance/end-of-line.yaml, acceptance/firmware-change.yaml, acceptance/long-run.yaml,"
                                + " acceptance/overnight.yaml, acceptance/quick-look.yaml. Did you mean"
                                + " 'end-of-line'?");
        assertThatThrownBy(() -> Bundled.find("", Kind.RIG))
                .hasMessage("'': no such file; expected the path of a rig description, or one packed with the program:"
                        + " rig/bench-two.rig.yaml, rig/simulated.rig.yaml.");
        assertThatThrownBy(() -> Bundled.find("a\0b", Kind.SPEC))
                .isInstanceOf(BadInput.class)
                .hasMessageStartingWith("a?b: is no file name");
    }

    @Test
    void a_packed_spec_finds_its_profile_in_the_pack() {
        TextFile spec = Bundled.find("tarn-drive-end-of-line", Kind.SPEC);

        TextFile profile = Bundled.beside(spec, "tarn-drive.profile.yaml", Kind.PROFILE);

        assertThat(profile.name()).isEqualTo("specs/tarn-drive.profile.yaml");
        assertThat(profile.text()).contains("profile: tarn-drive");
    }

    @Test
    void a_spec_on_disk_finds_the_profile_beside_it_and_only_then_the_packed_one() throws Exception {
        Path path = Files.writeString(folder.resolve("my.spec.yaml"), "spec: my\n");
        TextFile spec = TextFile.read("my.spec.yaml", path);

        assertThat(Bundled.beside(spec, "tarn-drive.profile.yaml", Kind.PROFILE).text())
                .contains("profile: tarn-drive");

        Files.writeString(folder.resolve("tarn-drive.profile.yaml"), "profile: beside\n");
        assertThat(Bundled.beside(spec, "tarn-drive.profile.yaml", Kind.PROFILE).text())
                .isEqualTo("profile: beside\n");
    }

    @Test
    void a_profile_that_is_nowhere_is_told_with_the_spec_that_names_it() {
        TextFile spec = Bundled.find("tarn-drive-end-of-line", Kind.SPEC);

        assertThatThrownBy(() -> Bundled.beside(spec, "../../etc/passwd", Kind.PROFILE))
                .isInstanceOf(BadInput.class)
                .hasMessage(
                        "tarn-drive-end-of-line: names the profile '../../etc/passwd', but there is no such file beside"
                                + " it; expected its path relative to this file, or one packed with the program:"
                                + " specs/tarn-drive.profile.yaml");
    }
}
