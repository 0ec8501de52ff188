package org.shiftstand.archive;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;

/** Small bags to be damaged. */
final class Bags {
    static final String SIGNATURE = "signatures/001-tested-by.json";

    private Bags() {}

    static SortedMap<String, Payload> payload() {
        var record = new byte[300];
        new Random(7).nextBytes(record);
        return new TreeMap<>(Map.of(
                "record.run", Payload.of(record),
                "result.json", Payload.of(utf8("{\"verdict\":\"pass\"}\n")),
                "shifts.csv", Payload.of(utf8("number,landing\n1,812.0\n2,812.1\n3,811.9\n")),
                "texts/spec.yaml", Payload.of(utf8("spec: tarn-drive\nversion: 3\n")),
                "empty.txt", Payload.of(new byte[0])));
    }

    static BagDigest write(Path out) {
        return BagWriter.write(
                out,
                BagForm.of(out),
                "TD-0107",
                "shiftstand 0.1.0",
                payload(),
                new TreeMap<>(Map.of("operator.json", utf8("{\"name\":\"R. Fell\"}\n"))),
                false);
    }

    /** With a signature, which is any text here. */
    static Path signed(Path out) {
        write(out);
        try (Bag bag = Bag.open(out, BagLimits.DEFAULT)) {
            bag.add(SIGNATURE, utf8("{\"signature\":\"AAAA\"}\n"));
        }
        return out;
    }

    static BagCheck check(Path bag) {
        try (Bag open = Bag.open(bag, BagLimits.DEFAULT)) {
            return open.check();
        }
    }

    static List<Finding> findings(Path bag) {
        return check(bag).findings();
    }

    /** {@code KIND file}, which is what most tests want to know. */
    static List<String> kinds(Path bag) {
        return findings(bag).stream().map(f -> f.kind() + " " + f.file()).toList();
    }

    static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    static byte[] bytes(Path file) {
        try {
            return Files.readAllBytes(file);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Content by path, of all files below. */
    static SortedMap<String, String> tree(Path folder) throws IOException {
        var all = new TreeMap<String, String>();
        try (Stream<Path> files = Files.walk(folder)) {
            files.filter(Files::isRegularFile)
                    .forEach(f -> all.put(folder.relativize(f).toString(), Copy.sha256(bytes(f))));
        }
        return all;
    }

    static List<String> namesIn(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(f -> f.getFileName().toString()).sorted().toList();
        }
    }
}
