package org.shiftstand.archive.run;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.shiftstand.archive.Payload;
import org.shiftstand.archive.run.JudgingJson.KeptFile;
import org.shiftstand.document.TextFile;
import org.shiftstand.judge.Judged;
import org.shiftstand.judge.KeptTexts;
import org.shiftstand.judge.NamedTexts.Role;
import org.shiftstand.record.RecordFile;
import org.shiftstand.report.ReportFiles;
import org.shiftstand.report.ReportOptions;

/**
 * The payload of a judged run's bag: samples, report, result, shift table, every text, how it was judged and by what.
 *
 * <p>The same file, texts, options and version of the program give the same bytes: the report has no date of its own.
 */
public final class RunPayload {
    private final SortedMap<String, Payload> files = new TreeMap<>();

    private RunPayload() {}

    /**
     * Gathers the payload.
     *
     * @param file run record or capture
     * @param own texts that a record holds, by role
     * @param named texts that went before those
     * @param scratch a folder for what is written on the way; may be deleted once the bag is written
     * @param version of this program
     * @return by path below {@code data/}
     */
    public static SortedMap<String, Payload> of(
            Path file,
            Judged judged,
            Map<String, TextFile> own,
            KeptTexts named,
            AsJudged said,
            Path scratch,
            String version)
            throws IOException {
        RunPayload payload = new RunPayload();
        String source = payload.samples(file);
        payload.written(BagNames.SHIFTS, ReportFiles.shifts(judged), scratch);
        payload.written(BagNames.RESULT, ReportFiles.result(judged), scratch);
        payload.written(BagNames.REPORT, ReportFiles.html(judged, ReportOptions.undated(version)), scratch);
        own.forEach((role, text) -> payload.keep(BagNames.text(role), text));
        Map<Role, KeptFile> texts = new EnumMap<>(Role.class);
        named.byRole().forEach((role, text) -> texts.put(role, payload.named(role, text, named)));
        Optional<KeptFile> mapping =
                said.mapping().map(text -> new KeptFile(payload.keep(BagNames.MAPPING, text), text.name()));
        payload.files.put(
                BagNames.JUDGING,
                Payload.of(new JudgingJson(source, String.valueOf(file.getFileName()), said, mapping, texts).bytes()));
        payload.files.put(BagNames.SOFTWARE, Payload.of(Software.json(version)));
        SortedMap<String, Payload> below = new TreeMap<>();
        payload.files.forEach((path, content) -> below.put(path.substring("data/".length()), content));
        return below;
    }

    private String samples(Path file) throws IOException {
        if (RecordFile.isOne(file)) {
            files.put(BagNames.RECORD, Payload.of(file));
            Path log = file.resolveSibling(file.getFileName() + "-wal");
            if (Files.exists(log)) {
                files.put(BagNames.RECORD_LOG, Payload.of(log));
            }
            return BagNames.RECORD;
        }
        String path = isPacked(file) ? BagNames.CAPTURE_PACKED : BagNames.CAPTURE;
        files.put(path, Payload.of(file));
        return path;
    }

    /** By the first two bytes, RFC 1952, 2.3.1. */
    private static boolean isPacked(Path file) throws IOException {
        try (InputStream in = Files.newInputStream(file)) {
            return in.read() == 0x1f && in.read() == 0x8b;
        }
    }

    private void written(String path, ReportFiles.Content content, Path scratch) throws IOException {
        Path file = scratch.resolve(path.substring(path.lastIndexOf('/') + 1));
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16)) {
            content.writeTo(out);
        }
        files.put(path, Payload.of(file));
    }

    /** The profile that a spec names is the profile of the run, unless another one was named. */
    private KeptFile named(Role role, TextFile text, KeptTexts named) {
        boolean isTheProfile =
                role == Role.PROFILE_OF_SPEC && named.text(Role.PROFILE).isEmpty();
        return new KeptFile(keep(BagNames.text(isTheProfile ? Role.PROFILE : role), text), text.name());
    }

    private String keep(String path, TextFile text) {
        files.put(path, Payload.of(text.text().getBytes(StandardCharsets.UTF_8)));
        return path;
    }
}
