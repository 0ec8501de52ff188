package org.shiftstand.archive;

import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A manifest, RFC 8493 2.1.3 and 2.2.1: a line for each file, digest, two spaces, path; sorted by path, so that the same files have
 * one manifest only.
 *
 * <p>Paths of our bags have no character that would be percent-encoded.
 */
final class Manifest {
    static final String NAME = "manifest-sha256.txt";
    static final String TAG_NAME = "tagmanifest-sha256.txt";

    private static final Pattern LINE = Pattern.compile("([0-9a-f]{64})  (\\S.*)");

    private Manifest() {}

    static byte[] bytes(SortedMap<String, String> digests) {
        StringBuilder text = new StringBuilder();
        digests.forEach(
                (path, hex) -> text.append(hex).append("  ").append(path).append('\n'));
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    /**
     * Reads one.
     *
     * @param findings takes what is wrong with it
     * @return digest by path; without lines that are none
     */
    static SortedMap<String, String> read(String file, byte[] bytes, List<Finding> findings) {
        SortedMap<String, String> digests = new TreeMap<>();
        String text = new String(bytes, StandardCharsets.UTF_8);
        int number = 0;
        for (String line : text.split("\n", -1)) {
            number++;
            Matcher matcher = LINE.matcher(line);
            if (matcher.matches()) {
                String path = matcher.group(2);
                BagPath.wrong(path).ifPresent(findings::add);
                if (digests.put(path, matcher.group(1)) != null) {
                    findings.add(new Finding(
                            file,
                            Finding.Kind.FORM,
                            "line " + number + " names " + BagPath.shown(path) + " a second time"));
                }
            } else if (!line.isEmpty()) {
                findings.add(new Finding(
                        file,
                        Finding.Kind.FORM,
                        "line " + number + " is no line of a manifest: "
                                + "expected 64 hex digits in lower case, two spaces and a path"));
            }
        }
        if (findings.isEmpty() && !Map.copyOf(digests).isEmpty() && !java.util.Arrays.equals(bytes, bytes(digests))) {
            findings.add(new Finding(
                    file,
                    Finding.Kind.FORM,
                    "is not written as its archive wrote it: one line a file, "
                            + "sorted by path, each ended by a line feed"));
        }
        return digests;
    }
}
