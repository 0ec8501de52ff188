package org.shiftstand.archive;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What a bag rests on, against figures that others published. */
class ReferenceBagTest {
    /** REF-BAG-01: RFC 8493, clauses 2 and 4; digests computed with sha256sum. */
    private static final JsonNode BAG =
            JsonMapper.shared().readTree(resource("bagit_minimal.json")).get("computed_valid_bag");

    @TempDir
    Path dir;

    /** That reader tells each step it takes. */
    @BeforeAll
    static void quieten() {
        ((ch.qos.logback.classic.Logger) org.slf4j.LoggerFactory.getLogger("gov.loc"))
                .setLevel(ch.qos.logback.classic.Level.WARN);
    }

    /** REF-SHA-01, REF-SHA-02: FIPS 180-4, example values published by NIST. */
    static List<String[]> messages() {
        return java.util.stream.Stream.of("sha256.csv", "sha256_more.csv")
                .flatMap(file -> resource(file).lines())
                .filter(line -> !line.startsWith("#") && !line.startsWith("message,"))
                .map(line -> line.split(","))
                .toList();
    }

    @ParameterizedTest
    @MethodSource("messages")
    void a_manifest_holds_the_published_digest_of_a_message(String message, int repeat, String sha256)
            throws IOException {
        var payload = new TreeMap<>(java.util.Map.of("message", Payload.of(Bags.utf8(message.repeat(repeat)))));

        BagWriter.write(dir.resolve("bag"), BagForm.FOLDER, "TD-0107", "s", payload, new TreeMap<>(), false);

        assertThat(dir.resolve("bag/manifest-sha256.txt")).hasContent(sha256 + "  data/message\n");
        assertThat(Bags.findings(dir.resolve("bag"))).isEmpty();
    }

    @Test
    void there_are_published_digests() {
        assertThat(messages()).hasSizeGreaterThanOrEqualTo(4);
    }

    @Test
    void the_reference_payload_gets_the_reference_manifest_and_declaration() {
        var payload = new TreeMap<String, Payload>();
        BAG.get("payload")
                .properties()
                .forEach(f -> payload.put(
                        f.getKey().substring(5),
                        Payload.of(Bags.utf8(f.getValue().asString()))));

        BagWriter.write(dir.resolve("bag"), BagForm.FOLDER, "unit 0001", "s", payload, new TreeMap<>(), false);

        assertThat(Files.exists(dir.resolve("bag"))).isTrue();
        for (String file : List.of("bagit.txt", "manifest-sha256.txt")) {
            assertThat(dir.resolve("bag").resolve(file))
                    .hasBinaryContent(Bags.utf8(BAG.get("tag_files").get(file).asString()));
        }
        assertThat(dir.resolve("bag/bag-info.txt")).content().contains("Payload-Oxum: 59.2\n");
    }

    @Test
    void the_reference_tag_files_get_the_reference_tag_manifest() {
        SortedMap<String, String> digests = new TreeMap<>();
        for (String file : List.of("bag-info.txt", "bagit.txt", "manifest-sha256.txt")) {
            digests.put(
                    file, Copy.sha256(Bags.utf8(BAG.get("tag_files").get(file).asString())));
        }

        assertThat(new String(Manifest.bytes(digests), StandardCharsets.US_ASCII))
                .isEqualTo(BAG.get("tag_files").get("tagmanifest-sha256.txt").asString());
    }

    /** It is a bag, of another program: only what this program's own format adds is missing. */
    @Test
    void the_reference_bag_itself_is_refused_for_its_bag_info_alone() throws IOException {
        for (String group : List.of("tag_files", "payload")) {
            for (var file : BAG.get(group).properties()) {
                Path place = dir.resolve("bag").resolve(file.getKey());
                Files.createDirectories(place.getParent());
                Files.writeString(place, file.getValue().asString());
            }
        }

        assertThat(Bags.kinds(dir.resolve("bag"))).containsExactly("FORM bag-info.txt");
    }

    /** The Library of Congress's own reader, which shares no code with ours. */
    @ParameterizedTest
    @ValueSource(strings = {"bag", "bag.tar.gz", "bag.zip"})
    void an_independent_reader_finds_a_complete_and_valid_bag(String name) throws Exception {
        Path folder = unpackedByOthers(Bags.signed(dir.resolve(name)));

        gov.loc.repository.bagit.domain.Bag bag = new gov.loc.repository.bagit.reader.BagReader().read(folder);

        try (var verifier = new gov.loc.repository.bagit.verify.BagVerifier()) {
            verifier.isComplete(bag, false);
            verifier.isValid(bag, false);
            gov.loc.repository.bagit.verify.BagVerifier.quicklyVerify(bag);
        }
        assertThat(bag.getVersion().toString()).isEqualTo("1.0");
        assertThat(bag.getMetadata().get("External-Identifier")).containsExactly("TD-0107");
        assertThat(bag.getPayLoadManifests()).hasSize(1);
        assertThat(bag.getPayLoadManifests().iterator().next().getFileToChecksumMap())
                .hasSize(5);
    }

    /** So that the test above cannot pass for a reader that looks at nothing. */
    @Test
    void the_independent_reader_finds_a_changed_byte() throws Exception {
        Path folder = Bags.signed(dir.resolve("bag"));
        Files.writeString(folder.resolve("data/shifts.csv"), "number,landing\n1,812.0\n2,812.1\n3,811.8\n");
        gov.loc.repository.bagit.domain.Bag bag = new gov.loc.repository.bagit.reader.BagReader().read(folder);

        try (var verifier = new gov.loc.repository.bagit.verify.BagVerifier()) {
            org.assertj.core.api.Assertions.assertThatThrownBy(() -> verifier.isValid(bag, false))
                    .isInstanceOf(gov.loc.repository.bagit.exceptions.CorruptChecksumException.class);
        }
    }

    /** By the tar of the system and by the JDK's ZIP reader: neither is what writes. */
    private Path unpackedByOthers(Path bag) throws Exception {
        if (Files.isDirectory(bag)) {
            return bag;
        }
        Path out = Files.createDirectory(dir.resolve("unpacked"));
        if (bag.toString().endsWith(".zip")) {
            unzip(bag, out);
        } else {
            assertThat(new ProcessBuilder("tar", "xzf", bag.toString(), "-C", out.toString())
                            .start()
                            .waitFor())
                    .isZero();
        }
        return out.resolve("bag");
    }

    private static void unzip(Path bag, Path out) throws IOException {
        try (var zip = new java.util.zip.ZipFile(bag.toFile())) {
            for (var entry : java.util.Collections.list(zip.entries())) {
                Path file = out.resolve(entry.getName());
                Files.createDirectories(file.getParent());
                try (InputStream in = zip.getInputStream(entry);
                        OutputStream to = Files.newOutputStream(file)) {
                    in.transferTo(to);
                }
                assertThat(entry.getTimeLocal()).isEqualTo("1980-01-01T00:00:00");
            }
        }
    }

    private static String resource(String file) {
        try (InputStream in = ReferenceBagTest.class.getResourceAsStream("/reference/bag/" + file)) {
            return new String(Objects.requireNonNull(in, file).readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }
}
