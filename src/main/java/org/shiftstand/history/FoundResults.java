package org.shiftstand.history;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.shiftstand.archive.Bag;
import org.shiftstand.archive.BagResult;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.document.BadInput;
import org.shiftstand.report.ReportFiles;

/**
 * The results in a folder and all below it: of bags, in any of their forms, and of runs as a check leaves them.
 *
 * @param entries a run each; where it is there twice, as a bag and as a folder, both
 * @param names disclosed names by digest
 * @param wrong what could not be used, a sentence each
 */
public record FoundResults(List<HistoryEntry> entries, Map<String, String> names, List<String> wrong) {
    /** Blocks while it reads. Links are not followed. Of a bag the result is held against its manifests, and nothing else. */
    public static FoundResults in(List<Path> folders) throws IOException {
        FoundResults found = new FoundResults(new ArrayList<>(), new TreeMap<>(), new ArrayList<>());
        for (Path folder : folders) {
            Files.walkFileTree(folder, found.new Walk());
        }
        return found;
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
            wrong.add(file + ": cannot be read (" + e.getMessage() + ")");
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
            entries.add(HistoryEntry.read(read.result(), path.toString(), path.toString()));
            read.names().values().forEach(this::name);
        } catch (BadInput e) {
            wrong.add(path + ": " + e.getMessage());
        }
    }

    private void run(Path result) throws IOException {
        Path folder = Optional.ofNullable(result.getParent()).orElse(Path.of("."));
        try {
            entries.add(HistoryEntry.read(Files.readAllBytes(result), result.toString(), folder.toString()));
            try (var files = Files.newDirectoryStream(folder, "operator*.json")) {
                for (Path file : files) {
                    name(Files.readAllBytes(file));
                }
            }
        } catch (BadInput e) {
            wrong.add(String.valueOf(e.getMessage()));
        }
    }

    private void name(byte[] file) {
        SaltedName.read(file).ifPresent(name -> names.put(name.digest(), name.name()));
    }
}
