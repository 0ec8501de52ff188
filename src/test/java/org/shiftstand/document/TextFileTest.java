package org.shiftstand.document;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.DisabledOnOs;
import org.junit.jupiter.api.condition.OS;
import org.junit.jupiter.api.io.TempDir;

class TextFileTest {
    @TempDir
    Path folder;

    private static void refused(Path path, String message) {
        Assertions.assertTimeoutPreemptively(
                Duration.ofSeconds(20),
                () -> assertThatThrownBy(() -> TextFile.read("x.yaml", path))
                        .isInstanceOf(BadInput.class)
                        .hasMessage(message));
    }

    @Test
    void text_digest_and_place_are_kept() throws Exception {
        Path path = Files.writeString(folder.resolve("a.yaml"), "abc");

        TextFile file = TextFile.read("a.yaml", path);

        assertThat(file.text()).isEqualTo("abc");
        // FIPS 180-4, the example of one block
        assertThat(file.sha256()).isEqualTo("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assertThat(TextFile.of("again", file.text()).sha256()).isEqualTo(file.sha256());
    }

    @Test
    void a_byte_order_mark_stays_in_the_text_so_that_the_digest_can_be_had_again() throws Exception {
        Path path = Files.write(folder.resolve("a.yaml"), "\uFEFFa: 1\n".getBytes(StandardCharsets.UTF_8));

        TextFile file = TextFile.read("a.yaml", path);

        assertThat(TextFile.of("again", file.text()).sha256()).isEqualTo(file.sha256());
    }

    @Test
    void a_missing_file() {
        refused(folder.resolve("none.yaml"), "x.yaml: no such file; check its name and folder");
    }

    @Test
    void a_folder() {
        refused(folder, "x.yaml: is a folder; expected a YAML file");
    }

    @Test
    void a_file_over_one_mebibyte() throws Exception {
        Path path = Files.write(folder.resolve("big.yaml"), new byte[(1 << 20) + 1]);

        refused(path, "x.yaml: is larger than 1 MiB; expected a file that a person wrote");
    }

    @Test
    void another_encoding_is_named_with_its_place() throws Exception {
        Path latin1 =
                Files.write(folder.resolve("a.yaml"), "a: 1\ntitle: Gerät\n".getBytes(StandardCharsets.ISO_8859_1));
        Path utf16 = Files.write(folder.resolve("b.yaml"), "a: 1\n".getBytes(StandardCharsets.UTF_16));
        Path cut = Files.write(folder.resolve("c.yaml"), new byte[] {'a', ':', ' ', (byte) 0xC3});

        refused(latin1, "x.yaml:2:11: byte 0xE4 is not valid UTF-8; expected UTF-8. Save the file as UTF-8");
        refused(utf16, "x.yaml: is encoded as UTF-16; expected UTF-8. Save it as UTF-8");
        refused(cut, "x.yaml:1:4: byte 0xC3 is not valid UTF-8; expected UTF-8. Save the file as UTF-8");
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void a_link_to_a_device_does_not_hang() throws Exception {
        Path device = Path.of("/dev/zero");
        Assumptions.assumeTrue(Files.exists(device));
        Path link = Files.createSymbolicLink(folder.resolve("zero.yaml"), device);

        refused(link, "x.yaml: is a device, pipe or socket; expected a regular file");
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void a_pipe_that_nobody_writes_to_does_not_hang() throws Exception {
        Path pipe = folder.resolve("pipe.yaml");
        Assumptions.assumeTrue(
                new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor() == 0);

        refused(pipe, "x.yaml: is a device, pipe or socket; expected a regular file");
    }

    @Test
    @DisabledOnOs(OS.WINDOWS)
    void a_link_to_nothing_and_a_link_to_itself() throws Exception {
        Path nothing = Files.createSymbolicLink(folder.resolve("a.yaml"), folder.resolve("gone.yaml"));
        Path itself = Files.createSymbolicLink(folder.resolve("b.yaml"), folder.resolve("b.yaml"));

        refused(nothing, "x.yaml: is a symbolic link to a file that does not exist; expected a link to one that does");
        refused(itself, "x.yaml: is a symbolic link to a file that does not exist; expected a link to one that does");
    }
}
