package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.shiftstand.archive.Finding.Kind;

/** A bag that is a folder. Links are never followed. Modes, owners and times of files are not part of the bag. */
final class FolderSource implements EntrySource {
    private final Path folder;
    private final BagLimits limits;

    FolderSource(Path folder, BagLimits limits) {
        this.folder = folder;
        this.limits = limits;
    }

    @Override
    public void visit(Visitor visitor, List<Finding> findings) throws IOException {
        Map<String, Path> files = new TreeMap<>();
        Files.walkFileTree(folder, new SimpleFileVisitor<>() {
            @Override
            public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
                String path = folder.relativize(file)
                        .toString()
                        .replace(file.getFileSystem().getSeparator(), "/");
                if (attributes.isRegularFile()) {
                    files.put(path, file);
                } else {
                    String what = attributes.isSymbolicLink() ? "a symbolic link" : "a device, pipe or socket";
                    findings.add(new Finding(BagPath.shown(path), Kind.LINK, "is " + what + "; it was not followed"));
                }
                return files.size() > limits.files() ? FileVisitResult.TERMINATE : FileVisitResult.CONTINUE;
            }
        });
        if (files.size() > limits.files()) {
            findings.add(new Finding(
                    String.valueOf(folder.getFileName()), Kind.BOMB, "has more than " + limits.files() + " files"));
            return;
        }
        for (Map.Entry<String, Path> file : files.entrySet()) {
            try (InputStream in = Files.newInputStream(file.getValue(), LinkOption.NOFOLLOW_LINKS)) {
                visitor.file(file.getKey(), in);
            } catch (java.nio.file.AccessDeniedException e) {
                findings.add(new Finding(file.getKey(), Kind.UNREADABLE, "may not be read by this user"));
            }
        }
    }
}
