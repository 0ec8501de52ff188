package org.shiftstand.export;

import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import org.shiftstand.capture.SampleSource;
import org.shiftstand.judge.Judged;

/**
 * Writes judged runs below one folder: {@code samples/}, {@code shifts/} and {@code clauses/}, each partitioned by kind of unit
 * and date.
 *
 * <p>A run has one file in each. Its name tells run and spec, so that exporting it again replaces it, under whatever kind it was
 * exported before; samples depend on no spec and have one file for a run. Files appear whole: an engine that reads meanwhile
 * sees the old one or the new one. Several programs may write at once, each its own runs.
 */
public final class ParquetExport {
    private static final int RUN_DIGITS = 16;
    private static final int SPEC_DIGITS = 8;

    private final Path folder;

    public ParquetExport(Path folder) {
        this.folder = folder;
    }

    /**
     * One file that was written.
     *
     * @param dataset {@code samples}, {@code shifts} or {@code clauses}
     * @param file below the folder of the export
     */
    public record Written(String dataset, Path file, long rows, long bytes) {}

    /** Whether the Parquet library is there to be used; nothing of it is started. */
    public static boolean isPossible() {
        try {
            Class.forName("org.apache.parquet.hadoop.ParquetWriter", false, ParquetExport.class.getClassLoader());
            return true;
        } catch (ClassNotFoundException | LinkageError e) {
            return false;
        }
    }

    /**
     * Writes one run.
     *
     * @param source of the judgement, still open
     * @param samples whether samples are written; those of an earlier export stay otherwise
     * @throws IOException where a file cannot be written; files already written stay, each whole
     */
    public List<Written> write(Judged judged, SampleSource source, boolean samples) throws IOException {
        RunFacts facts = RunFacts.of(judged.judgement());
        String run = facts.run().substring(0, RUN_DIGITS);
        String judgedRun = run + "-" + facts.specSha256().substring(0, SPEC_DIGITS);
        List<Written> written = new ArrayList<>();
        if (samples) {
            SampleRows rows =
                    new SampleRows(source, judged.track(), judged.judgement().table(), facts);
            written.add(write(Dataset.SAMPLES, run, facts, rows::write));
        }
        written.add(write(Dataset.SHIFTS, judgedRun, facts, new ShiftRows(judged.judgement(), facts)::write));
        written.add(write(Dataset.CLAUSES, judgedRun, facts, new ClauseRows(judged.judgement(), facts)::write));
        return written;
    }

    private Written write(Dataset dataset, String name, RunFacts facts, Rows rows) throws IOException {
        Path whole = folder.resolve(dataset.word());
        Path place = Partition.of(facts).in(whole);
        Files.createDirectories(place);
        Path file = place.resolve(name + ".parquet");
        Path partial = Files.createTempFile(place, ".partial-", null); // hidden: engines pass over it
        try {
            long count = rows(partial, dataset, rows);
            Footer.putInOrder(partial);
            Files.setPosixFilePermissions(partial, PosixFilePermissions.fromString("rw-r--r--"));
            long bytes = Files.size(partial);
            Files.move(partial, file, StandardCopyOption.ATOMIC_MOVE);
            removeElsewhere(whole, place, file);
            return new Written(dataset.word(), folder.relativize(file), count, bytes);
        } finally {
            Files.deleteIfExists(partial);
        }
    }

    private static long rows(Path partial, Dataset dataset, Rows rows) throws IOException {
        try (ParquetFile out = ParquetFile.create(partial, dataset)) {
            rows.writeTo(out);
            return out.rows();
        }
    }

    /** The same run, exported before as another kind: it would count twice. Its date cannot have changed. */
    private static void removeElsewhere(Path dataset, Path place, Path file) throws IOException {
        try (DirectoryStream<Path> kinds = Files.newDirectoryStream(dataset, "kind=*")) {
            for (Path kind : kinds) {
                Path same = kind.resolve(place.getFileName()).resolve(file.getFileName());
                if (!same.equals(file)) {
                    Files.deleteIfExists(same);
                }
            }
        }
    }

    private interface Rows {
        void writeTo(ParquetFile file) throws IOException;
    }
}
