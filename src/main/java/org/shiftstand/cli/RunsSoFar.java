package org.shiftstand.cli;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.shiftstand.record.RecordFile;

/**
 * The run folders below a reports folder, told from names; of the newest also whether it has a verdict.
 *
 * @param count of run folders
 * @param newest empty where there is none
 */
record RunsSoFar(int count, Optional<Newest> newest) {
    /** {@code UNIT-UTCSTAMP-NNN}, as each check makes one. */
    private static final Pattern FOLDER = Pattern.compile("(.+)-(\\d{8}T\\d{6}Z)-(\\d{3})");

    private static final Pattern VERDICT = Pattern.compile("\"verdict\": *\"(pass|fail|no-verdict)\"");
    private static final int HEAD_BYTES = 4096;

    /**
     * The newest run.
     *
     * @param verdict as {@code result.json} says it; empty where there is none
     * @param simulated whether it says that nothing real was judged
     * @param record empty where the folder has none
     */
    record Newest(String unit, Path folder, Optional<String> verdict, boolean simulated, Optional<Path> record) {}

    static RunsSoFar below(Path reports) {
        List<Path> folders;
        try (Stream<Path> all = Files.list(reports)) {
            folders = all.filter(folder ->
                            FOLDER.matcher(folder.getFileName().toString()).matches())
                    .filter(Files::isDirectory)
                    .sorted(Comparator.comparing(RunsSoFar::when).thenComparing(Comparator.naturalOrder()))
                    .toList();
        } catch (IOException e) {
            folders = List.of(); // no such folder, or not ours to read: no runs to go on from
        }
        return new RunsSoFar(
                folders.size(),
                folders.isEmpty() ? Optional.empty() : Optional.of(newest(folders.get(folders.size() - 1))));
    }

    private static String when(Path folder) {
        Matcher name = FOLDER.matcher(folder.getFileName().toString());
        return name.matches() ? name.group(2) + name.group(3) : "";
    }

    private static Newest newest(Path folder) {
        Matcher name = FOLDER.matcher(folder.getFileName().toString());
        String unit = name.matches() ? name.group(1) : "";
        Path record = folder.resolve(unit + RecordFile.EXTENSION);
        String head = head(folder.resolve(Reports.RESULT));
        Matcher verdict = VERDICT.matcher(head);
        return new Newest(
                unit,
                folder,
                verdict.find() ? Optional.of(verdict.group(1)) : Optional.empty(),
                head.contains("\"attendance\": \"simulated\""),
                Files.exists(record) ? Optional.of(record) : Optional.empty());
    }

    /** The first lines of a result hold its verdict; the whole may be megabytes. Empty where there is none. */
    private static String head(Path result) {
        try (InputStream in = Files.newInputStream(result)) {
            return new String(in.readNBytes(HEAD_BYTES), StandardCharsets.UTF_8);
        } catch (IOException e) {
            return "";
        }
    }
}
