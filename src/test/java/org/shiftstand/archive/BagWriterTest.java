package org.shiftstand.archive;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Map;
import java.util.SortedMap;
import java.util.TimeZone;
import java.util.TreeMap;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.shiftstand.document.BadInput;

class BagWriterTest {
    @TempDir
    Path dir;

    @Test
    void a_folder_holds_the_files_and_the_four_tag_files() throws IOException {
        BagDigest digest = Bags.write(dir.resolve("bag"));

        assertThat(Bags.tree(dir.resolve("bag")).keySet())
                .containsExactly(
                        "bag-info.txt",
                        "bagit.txt",
                        "data/empty.txt",
                        "data/record.run",
                        "data/result.json",
                        "data/shifts.csv",
                        "data/texts/spec.yaml",
                        "manifest-sha256.txt",
                        "names/operator.json",
                        "tagmanifest-sha256.txt");
        assertThat(dir.resolve("bag/bag-info.txt")).hasContent("""
                        External-Identifier: TD-0107
                        Bag-Software-Agent: shiftstand 0.1.0
                        Shiftstand-Bag-Format: 1
                        Payload-Oxum: 386.5
                        """);
        assertThat(digest.text())
                .isEqualTo("sha256:" + Copy.sha256(Bags.bytes(dir.resolve("bag/tagmanifest-sha256.txt"))));
    }

    /** The program that the page tells people to check a bag with. */
    @Test
    void sha256sum_agrees_with_both_manifests() throws Exception {
        Bags.write(dir.resolve("bag"));

        for (String manifest : new String[] {"manifest-sha256.txt", "tagmanifest-sha256.txt"}) {
            Process check = new ProcessBuilder("sha256sum", "--strict", "-c", manifest)
                    .directory(dir.resolve("bag").toFile())
                    .redirectErrorStream(true)
                    .start();
            String said = new String(check.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);

            assertThat(check.waitFor()).as(said).isZero();
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void the_same_input_gives_the_same_bytes_at_another_place_and_in_another_time_zone(String name) throws IOException {
        TimeZone here = TimeZone.getDefault();
        Path first = Files.createDirectory(dir.resolve("first"));
        Path second = Files.createDirectories(dir.resolve("somewhere/else"));
        BagDigest one = Bags.write(first.resolve(name));
        BagDigest two;
        try {
            TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Chatham"));
            two = Bags.write(second.resolve(name));
        } finally {
            TimeZone.setDefault(here);
        }

        assertThat(two).isEqualTo(one);
        assertThat(Bags.tree(second)).isEqualTo(Bags.tree(first)).isNotEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void what_was_written_is_sound_in_every_form_and_has_one_digest(String name) {
        BagDigest digest = Bags.write(dir.resolve(name));

        BagCheck check = Bags.check(dir.resolve(name));

        assertThat(check.findings()).isEmpty();
        assertThat(check.digest())
                .isEqualTo(digest.text())
                .isEqualTo("sha256:54578643913958b6a5bb6ec1db2402a2975b3b28c06049abbd06b881f9d27045"); // by sha256sum
        assertThat(check.octets()).isEqualTo(386);
        assertThat(check.files()).isEqualTo(5);
        assertThat(check.small())
                .containsOnlyKeys(
                        "bag-info.txt",
                        "bagit.txt",
                        "data/result.json",
                        "manifest-sha256.txt",
                        "names/operator.json",
                        "tagmanifest-sha256.txt");
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void a_signature_comes_and_goes_and_leaves_the_first_bytes(String name) throws IOException {
        Path out = Bags.signed(dir.resolve(name));
        Path plain = Files.createDirectory(dir.resolve("plain")).resolve(name);
        Bags.write(plain);

        try (Bag bag = Bag.open(out, BagLimits.DEFAULT)) {
            assertThat(bag.check().findings()).isEmpty();
            assertThat(bag.check().digest()).isEqualTo(Bags.check(plain).digest());
            assertThat(bag.signatures()).containsOnlyKeys(Bags.SIGNATURE);
            assertThat(bag.names()).containsOnlyKeys("names/operator.json");
            assertThatThrownBy(() -> bag.add(Bags.SIGNATURE, new byte[1]))
                    .hasMessageContaining("holds " + Bags.SIGNATURE);
            assertThatThrownBy(() -> bag.add("signatures/../data/x", new byte[1]))
                    .isInstanceOf(BadInput.class);
            bag.remove(Bags.SIGNATURE);
        }
        if (Files.isDirectory(out)) {
            Files.delete(out.resolve("signatures"));
        }

        assertThat(Files.isDirectory(out) ? Bags.tree(out).toString() : Copy.sha256(Bags.bytes(out)))
                .isEqualTo(Files.isDirectory(plain) ? Bags.tree(plain).toString() : Copy.sha256(Bags.bytes(plain)));
        assertThat(Bags.namesIn(dir)).containsExactlyInAnyOrder(name, "plain");
    }

    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void files_come_out_as_they_went_in(String name) throws IOException {
        Bags.write(dir.resolve(name));
        Bags.write(dir.resolve("folder"));

        try (Bag bag = Bag.open(dir.resolve(name), BagLimits.DEFAULT)) {
            Path out = bag.extract(dir.resolve("out"));

            assertThat(Bags.tree(out)).isEqualTo(Bags.tree(dir.resolve("folder")));
            try (InputStream in = bag.payload("data/record.run")) {
                assertThat(Copy.sha256(in.readAllBytes()))
                        .isEqualTo(Bags.tree(out).get("data/record.run"));
            }
            assertThat(bag.tag("data/result.json")).contains(Bags.utf8("{\"verdict\":\"pass\"}\n"));
            assertThat(bag.tag("../folder/bagit.txt")).isEmpty();
            assertThatThrownBy(() -> bag.payload("data/none"))
                    .hasMessageEndingWith("holds no data/none; 'shiftstand verify' tells what is missing");
        }
    }

    /** The first bags that were ever written, kept for good. */
    @ParameterizedTest
    @ValueSource(strings = {"format-1.tar.gz", "format-1.zip"})
    void an_archive_of_format_1_is_still_read_and_what_is_written_now_unpacks_to_the_same(String name)
            throws IOException {
        Path stored = dir.resolve(name);
        try (InputStream in = BagWriterTest.class.getResourceAsStream("/bags/" + name)) {
            Files.write(stored, java.util.Objects.requireNonNull(in).readAllBytes());
        }
        Path written = Files.createDirectory(dir.resolve("new")).resolve(name);
        Bags.signed(written);

        assertThat(Bags.findings(stored)).isEmpty();
        // unpacked: how deflate packs may differ between Java versions, and is not part of the format
        assertThat(Bags.tree(Bag.open(stored, BagLimits.DEFAULT).extract(dir.resolve("a"))))
                .isEqualTo(Bags.tree(Bag.open(written, BagLimits.DEFAULT).extract(dir.resolve("b"))));
    }

    @Nested
    class Nothing_is_left_behind {
        @ParameterizedTest
        @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
        void when_a_payload_breaks_off(String name) throws IOException {
            SortedMap<String, Payload> payload = Bags.payload();
            payload.put("z.csv", sized(100_000, new byte[100]));

            assertThatThrownBy(() -> write(dir.resolve(name), payload, false))
                    .isInstanceOf(BadInput.class)
                    .hasMessage(dir.resolve(name)
                            + ": data/z.csv is not of the 100000 bytes that it had before; it changed while"
                            + " it was read. Wait until nothing writes it any more, and archive again");
            assertThat(Bags.namesIn(dir)).isEmpty();
        }

        @ParameterizedTest
        @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
        void when_a_payload_grows(String name) throws IOException {
            SortedMap<String, Payload> payload = Bags.payload();
            payload.put("z.csv", sized(10, new byte[100]));

            assertThatThrownBy(() -> write(dir.resolve(name), payload, false))
                    .hasMessageContaining("data/z.csv is not of the 10");
            assertThat(Bags.namesIn(dir)).isEmpty();
        }

        @ParameterizedTest
        @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
        void when_a_payload_cannot_be_read(String name) throws IOException {
            SortedMap<String, Payload> payload = Bags.payload();
            payload.put("z.csv", new Payload() {
                @Override
                public long octets() {
                    return 3;
                }

                @Override
                public InputStream open() throws IOException {
                    throw new java.nio.file.NoSuchFileException("z");
                }
            });

            assertThatThrownBy(() -> write(dir.resolve(name), payload, false))
                    .hasMessageEndingWith(
                            "data/z.csv cannot be read (no such file or folder); nothing was written. Check its rights, and that its"
                                    + " disk is there");
            assertThat(Bags.namesIn(dir)).isEmpty();
        }

        @Test
        void when_an_archive_would_be_refused_as_a_bomb() throws IOException {
            SortedMap<String, Payload> payload = Bags.payload();
            payload.put("z.csv", Payload.of(new byte[100 << 20]));

            assertThatThrownBy(() -> write(dir.resolve("bag.zip"), payload, false))
                    .hasMessageContaining("expands more than 200 to one")
                    .hasMessageEndingWith("Write a folder");
            assertThat(Bags.namesIn(dir)).isEmpty();
        }

        private Payload sized(long octets, byte[] content) {
            return new Payload() {
                @Override
                public long octets() {
                    return octets;
                }

                @Override
                public InputStream open() {
                    return new ByteArrayInputStream(content);
                }
            };
        }
    }

    @Nested
    class What_stands_there_already {
        @ParameterizedTest
        @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
        void is_refused(String name) {
            Bags.write(dir.resolve(name));

            assertThatThrownBy(() -> Bags.write(dir.resolve(name)))
                    .hasMessage(dir.resolve(name)
                            + ": exists already, and nothing is overwritten; name another file, or add --force");
        }

        @ParameterizedTest
        @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
        void is_replaced_on_request(String name) throws IOException {
            Bags.write(dir.resolve(name));

            write(dir.resolve(name), new TreeMap<>(Map.of("capture.csv", Payload.of(Bags.utf8("a,b\n")))), true);

            assertThat(Bags.findings(dir.resolve(name))).isEmpty();
            assertThat(Bags.check(dir.resolve(name)).files()).isEqualTo(1);
            assertThat(Bags.namesIn(dir)).containsExactly(name);
        }

        @Test
        void is_never_replaced_where_it_is_a_folder_and_no_bag() throws IOException {
            Files.writeString(Files.createDirectory(dir.resolve("work")).resolve("thesis.txt"), "years");

            assertThatThrownBy(() -> write(dir.resolve("work"), Bags.payload(), true))
                    .hasMessageContaining("no bag");
            assertThat(dir.resolve("work/thesis.txt")).hasContent("years");
        }
    }

    @Test
    void all_names_that_no_bag_can_have_are_told_at_once() {
        var payload = new TreeMap<>(Map.of(
                "../x",
                Payload.of(new byte[1]),
                "a b",
                Payload.of(new byte[1]),
                "C.csv",
                Payload.of(new byte[1]),
                "c.csv",
                Payload.of(new byte[1])));

        assertThatThrownBy(() -> BagWriter.write(
                        dir.resolve("bag"),
                        BagForm.FOLDER,
                        "TD\n1",
                        "s",
                        payload,
                        new TreeMap<>(Map.of("x", new byte[1])),
                        false))
                .hasMessageContaining("'TD\\u000a1' cannot be in bag-info.txt")
                .hasMessageContaining("data/../x holds a step '..'")
                .hasMessageContaining("data/a b holds a part that is not")
                .hasMessageContaining("data/c.csv stands beside a name that differs only in case")
                .hasMessageContaining("names/x is no name");
    }

    @Test
    void others_may_read_what_was_written() throws IOException {
        Bags.write(dir.resolve("bag.zip"));

        assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(dir.resolve("bag.zip"))))
                .isEqualTo("rw-r--r--");
    }

    private static void write(Path out, SortedMap<String, Payload> payload, boolean overwrite) {
        BagWriter.write(out, BagForm.of(out), "TD-0107", "shiftstand 0.1.0", payload, new TreeMap<>(), overwrite);
    }
}
