package org.shiftstand.archive.run;

import java.io.BufferedOutputStream;
import java.io.BufferedReader;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.judge.Judged;
import org.shiftstand.report.ReportFiles;
import org.shiftstand.report.ReportOptions;
import tools.jackson.core.JacksonException;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Judges the run in a bag again, from its samples and texts alone, and says what comes out otherwise.
 *
 * @param judged the run as it is judged now
 * @param version that the archive was made with
 * @param everyFile whether report and shift table were held against each other too, which needs the same version
 * @param differences everything that is otherwise; empty where the archive tells what its samples tell
 */
public record Rejudging(Judged judged, String version, boolean everyFile, List<Difference> differences) {
    /**
     * Judges again; blocks while it does.
     *
     * @param bag the unpacked bag
     * @param scratch a folder for what is written on the way
     * @param version of this program
     * @throws BadInput where the bag lacks what is needed, or its samples cannot be read
     */
    public static Rejudging of(Path bag, Path scratch, String version) throws IOException {
        JsonNode archived = json(bytes(bag, BagNames.RESULT), BagNames.RESULT);
        String then = json(bytes(bag, BagNames.SOFTWARE), BagNames.SOFTWARE)
                .path("version")
                .asString("unknown");
        boolean same = then.equals(version);
        try (ArchivedRun run = ArchivedRun.open(bag, scratch)) {
            Judged judged = run.judge();
            ByteArrayOutputStream result = new ByteArrayOutputStream();
            ReportFiles.result(judged).writeTo(result);
            List<Difference> differences = new ArrayList<>(
                    ResultComparison.of(archived, json(result.toByteArray(), "the result of judging again"), same));
            if (same) {
                file(bag, BagNames.SHIFTS, ReportFiles.shifts(judged), scratch).ifPresent(differences::add);
                file(bag, BagNames.REPORT, ReportFiles.html(judged, ReportOptions.undated(version)), scratch)
                        .ifPresent(differences::add);
            }
            return new Rejudging(judged, then, same, List.copyOf(differences));
        }
    }

    private static Optional<Difference> file(Path bag, String path, ReportFiles.Content content, Path scratch)
            throws IOException {
        Path again = Files.createTempFile(scratch, "again-", null);
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(again), 1 << 16)) {
            content.writeTo(out);
        }
        long at = Files.mismatch(ArchivedRun.needed(bag, path), again);
        return at < 0 ? Optional.empty() : Optional.of(differing(ArchivedRun.needed(bag, path), again, path));
    }

    /** The first line that differs, from shortly before the place. */
    private static Difference differing(Path archived, Path again, String path) throws IOException {
        try (BufferedReader was = Files.newBufferedReader(archived, StandardCharsets.ISO_8859_1);
                BufferedReader is = Files.newBufferedReader(again, StandardCharsets.ISO_8859_1)) {
            for (int line = 1; ; line++) {
                Optional<String> one = Optional.ofNullable(was.readLine());
                Optional<String> other = Optional.ofNullable(is.readLine());
                if (one.isEmpty() || !one.equals(other)) {
                    int from = other.map(o -> Math.max(0, common(one.orElse(""), o) - 20))
                            .orElse(0);
                    return new Difference(path + ", line " + line, shown(one, from), shown(other, from));
                }
            }
        }
    }

    private static int common(String one, String other) {
        int n = Math.min(one.length(), other.length());
        for (int i = 0; i < n; i++) {
            if (one.charAt(i) != other.charAt(i)) {
                return i;
            }
        }
        return n;
    }

    private static String shown(Optional<String> line, int from) {
        return line.map(l -> l.substring(Math.min(from, l.length()), Math.min(from + 60, l.length())))
                .map(part -> new String(part.getBytes(StandardCharsets.ISO_8859_1), StandardCharsets.UTF_8))
                .map(part -> "'" + part.replaceAll("\\p{Cntrl}", "?") + "'")
                .orElse("no such line");
    }

    private static byte[] bytes(Path bag, String path) throws IOException {
        return Files.readAllBytes(ArchivedRun.needed(bag, path));
    }

    private static JsonNode json(byte[] bytes, String path) {
        try {
            return JsonMapper.shared().readTree(bytes);
        } catch (JacksonException e) {
            throw ArchivedRun.bad(
                    path,
                    "is no JSON document (" + e.getOriginalMessage() + "); was it changed? 'shiftstand verify' tells");
        }
    }
}
