package org.shiftstand.archive;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Digests by path: RFC 8493, 2.1.3 and 2.2.1, in the one way that format 1 writes them, which {@code sha256sum -c} reads too.
 *
 * <pre>
 * 64 lower-case hex digits, two spaces, path, LF; sorted by path
 * </pre>
 */
final class Manifest {
    static final String PAYLOAD = "manifest-sha256.txt";
    static final String TAG = "tagmanifest-sha256.txt";

    private static final Pattern LINE = Pattern.compile("([0-9A-Fa-f]{64})[ \\t]+\\*?(.+)");

    private Manifest() {}

    static byte[] bytes(SortedMap<String, String> digests) {
        var text = new StringBuilder();
        digests.forEach(
                (path, hex) -> text.append(hex).append("  ").append(path).append('\n'));
        return text.toString().getBytes(StandardCharsets.US_ASCII);
    }

    /**
     * Reads one that may be anything.
     *
     * @param file its name, for findings
     * @return lower-case digests by path; what is no line or no safe path is left out, and a finding says so
     */
    static SortedMap<String, String> read(String file, byte[] bytes, FindingList findings) {
        var digests = new TreeMap<String, String>(MemberPath.ORDER);
        int before = findings.count();
        String text = new String(bytes, StandardCharsets.ISO_8859_1);
        int number = 0;
        for (String line : text.split("\r\n|\r|\n")) {
            line(file, ++number, line, digests, findings);
        }
        if (findings.count() == before && !Arrays.equals(bytes, bytes(digests))) {
            findings.add(
                    file,
                    Finding.Kind.FORM,
                    "is not written as this format has it: lower-case digits, two spaces, sorted by path, line feeds only");
        }
        return digests;
    }

    private static void line(String file, int number, String line, Map<String, String> digests, FindingList findings) {
        Matcher parts = LINE.matcher(line);
        if (!parts.matches()) {
            findings.add(file, Finding.Kind.FORM, "line " + number + " is no SHA-256 digest, two spaces and a path");
            return;
        }
        String path = parts.group(2);
        var problem = MemberPath.problem(path);
        if (problem.isPresent()) {
            findings.add(
                    path, Finding.Kind.ESCAPE, "this name in line " + number + " of " + file + " " + problem.get());
        } else if (digests.putIfAbsent(path, parts.group(1).toLowerCase(java.util.Locale.ROOT)) != null) {
            findings.add(path, Finding.Kind.FORM, "is listed twice in " + file);
        }
    }
}
