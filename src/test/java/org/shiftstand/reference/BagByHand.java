package org.shiftstand.reference;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.TreeMap;
import org.shiftstand.archive.BagForm;
import org.shiftstand.archive.BagWriter;
import org.shiftstand.archive.Digest;
import org.shiftstand.archive.Payload;
import tools.jackson.databind.JsonNode;

/** A bag of two files, its manifest made by {@code sha256sum}: what this program's own format adds is not part of it. */
final class BagByHand implements Published {
    @Override
    public Source source() {
        return new Source("REF-BAG-01", "RFC 8493, clauses 2 and 4", "VERIFIED layout, COMPUTED digests");
    }

    @Override
    public void compare(Comparisons comparisons) {
        JsonNode bag = Reference.json("reference/bag/bagit_minimal.json").get("computed_valid_bag");
        TreeMap<String, Payload> payload = new TreeMap<>();
        bag.get("payload")
                .properties()
                .forEach(file -> payload.put(
                        file.getKey().substring("data/".length()),
                        Payload.of(bytes(file.getValue().asString()))));
        Path scratch = scratch();
        Path written = scratch.resolve("bag");
        BagWriter.write(written, BagForm.FOLDER, "unit 0001", "shiftstand", payload, new TreeMap<>(), false);
        for (String file : new String[] {"bagit.txt", "manifest-sha256.txt"}) {
            comparisons.word(
                    file + ", SHA-256",
                    Digest.hex(bytes(bag.get("tag_files").get(file).asString())),
                    Digest.hex(read(written.resolve(file))));
        }
        comparisons.word(
                "Payload-Oxum",
                oxum(bag.get("tag_files").get("bag-info.txt").asString()),
                oxum(new String(read(written.resolve("bag-info.txt")), StandardCharsets.UTF_8)));
        delete(scratch);
    }

    private static String oxum(String bagInfo) {
        return bagInfo.lines()
                .filter(line -> line.startsWith("Payload-Oxum: "))
                .map(line -> line.substring("Payload-Oxum: ".length()))
                .findFirst()
                .orElse("none");
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static Path scratch() {
        try {
            return Files.createTempDirectory("reference-bag");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static byte[] read(Path file) {
        try {
            return Files.readAllBytes(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void delete(Path folder) {
        try (var files = Files.walk(folder)) {
            for (Path file : files.sorted(java.util.Comparator.reverseOrder()).toList()) {
                Files.delete(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
