package org.shiftstand.history;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.shiftstand.archive.Bag;
import org.shiftstand.archive.BagResult;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;
import org.shiftstand.report.ReportFiles;

/**
 * Finds the results in folders and all below them: of bags, in any of their forms, and of runs as a check leaves them. A run that is
 * there as a bag and as a folder is found twice.
 *
 * <p>Hands them on some at a time: memory does not grow with their number.
 */
public final class FoundResults {
    /** So many results take a few megabytes. */
    private static final int AT_ONCE = 500;

    private final Some some;
    private final List<HistoryEntry> entries = new ArrayList<>();
    private final Map<String, String> names = new TreeMap<>();
    private final List<String> wrong = new ArrayList<>();
    private int count;

    private FoundResults(Some some) {
        this.some = some;
    }

    /** Takes some results. */
    public interface Some {
        /**
         * Takes them.
         *
         * @param names disclosed names by digest
         */
        void take(List<HistoryEntry> entries, Map<String, String> names) throws SQLException;
    }

    /** A database that failed while folders were walked through. */
    private static final class Failed extends RuntimeException {
        private final transient SQLException cause;

        Failed(SQLException cause) {
            super(cause);
            this.cause = cause;
        }
    }

    /**
     * Blocks while it reads. Links are not followed. Of a bag that is a folder the result is held against its manifests, and nothing
     * else; a packed one is checked as a whole.
     */
    public static FoundResults in(List<Path> folders, Some some) throws IOException, SQLException {
        FoundResults found = new FoundResults(some);
        try {
            for (Path folder : folders) {
                Files.walkFileTree(folder, found.new Walk());
            }
            found.handOn();
        } catch (Failed e) {
            throw e.cause;
        }
        return found;
    }

    /** How many results were found. */
    public int count() {
        return count;
    }

    /** What could not be used, a sentence each. */
    public List<String> wrong() {
        return List.copyOf(wrong);
    }

    private void add(HistoryEntry entry) {
        entries.add(entry);
        count++;
        if (entries.size() == AT_ONCE) {
            handOn();
        }
    }

    private void handOn() {
        try {
            some.take(List.copyOf(entries), Map.copyOf(names));
        } catch (SQLException e) {
            throw new Failed(e);
        }
        entries.clear();
        names.clear();
    }

    private final class Walk extends SimpleFileVisitor<Path> {
        @Override
        public FileVisitResult preVisitDirectory(Path folder, BasicFileAttributes attributes) {
            if (String.valueOf(folder.getFileName()).startsWith(".partial-")) {
                return FileVisitResult.SKIP_SUBTREE;
            }
            if (Bag.looksLikeOne(folder)) {
                bag(folder);
                return FileVisitResult.SKIP_SUBTREE;
            }
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
            if (attributes.isRegularFile() && String.valueOf(file.getFileName()).equals(ReportFiles.RESULT)) {
                run(file);
            } else if (Bag.looksLikeOne(file)) {
                bag(file);
            }
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFileFailed(Path file, IOException e) {
            wrong.add(file + ": cannot be read (" + FileTrouble.words(e) + "); check its rights");
            return FileVisitResult.CONTINUE;
        }
    }

    private void bag(Path path) {
        try {
            BagResult read = BagResult.read(path);
            if (!read.findings().isEmpty()) {
                read.findings().forEach(finding -> wrong.add(path + ": " + finding));
                return;
            }
            read.names().values().forEach(this::name);
            add(HistoryEntry.read(read.result(), path.toString(), path.toString()));
        } catch (BadInput e) {
            wrong.add(path + ": " + e.getMessage());
        }
    }

    private void run(Path result) throws IOException {
        Path folder = Optional.ofNullable(result.getParent()).orElse(Path.of("."));
        try {
            try (var files = Files.newDirectoryStream(folder, "operator*.json")) {
                for (Path file : files) {
                    name(Files.readAllBytes(file));
                }
            }
            add(HistoryEntry.read(Files.readAllBytes(result), result.toString(), folder.toString()));
        } catch (BadInput e) {
            wrong.add(String.valueOf(e.getMessage()));
        }
    }

    private void name(byte[] file) {
        SaltedName.read(file).ifPresent(name -> names.put(name.digest(), name.name()));
    }
}
