package org.shiftstand.bench;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.document.TextFile;

/** The probe files of a folder: one a probe, none ever overwritten, told apart by rig and time. */
public final class ProbeFiles {
    private static final String ENDING = ".probe.yaml";
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);

    private ProbeFiles() {}

    /**
     * The newest probe of a rig.
     *
     * @param report empty where none of this rig can be read
     * @param unreadable what is wrong with files that could not be read, a sentence each
     */
    public record Newest(Optional<ProbeReport> report, List<String> unreadable) {
        public Newest {
            unreadable = List.copyOf(unreadable);
        }
    }

    /**
     * A name that is free: {@code RIG-UTCSTAMP.probe.yaml}, with a number before the ending where there is one of that
     * second. What cannot stand in a file's name becomes {@code _}.
     */
    public static Path free(Path folder, String rig, Instant at) {
        String plain = rig.replaceAll("[^A-Za-z0-9._-]", "_").replaceAll("^[.-]+", "_");
        String name = plain + "-" + STAMP.format(at);
        Path file = folder.resolve(name + ENDING);
        for (int n = 2; Files.exists(file, LinkOption.NOFOLLOW_LINKS); n++) {
            file = folder.resolve(name + "-" + n + ENDING);
        }
        return file;
    }

    /** Looks through a folder; one that is not there has no probes. */
    public static Newest newest(Path folder, String rig) {
        List<ProbeReport> read = new ArrayList<>();
        List<String> unreadable = new ArrayList<>();
        for (Path file : files(folder, unreadable)) {
            try {
                read.add(ProbeReportReader.read(TextFile.read(file.toString(), file)));
            } catch (BadInput e) {
                e.problems().stream().findFirst().ifPresent(problem -> unreadable.add(problem.toString()));
            }
        }
        return new Newest(
                read.stream().filter(report -> report.rig().equals(rig)).max(Comparator.comparing(ProbeReport::at)),
                unreadable);
    }

    private static List<Path> files(Path folder, List<String> unreadable) {
        List<Path> files = new ArrayList<>();
        if (Files.isDirectory(folder)) {
            try (DirectoryStream<Path> found = Files.newDirectoryStream(folder, "*" + ENDING)) {
                found.forEach(files::add);
            } catch (IOException e) {
                unreadable.add(folder + ": cannot be looked through (" + FileTrouble.words(e) + "); check its rights");
            }
        }
        Collections.sort(files);
        return files;
    }
}
