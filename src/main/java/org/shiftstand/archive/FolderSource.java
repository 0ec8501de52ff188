package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.HashSet;
import java.util.Iterator;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;

/** Reads a folder; follows no link and opens nothing but regular files. */
final class FolderSource implements Source {
    private final Path folder;
    private final BagLimits limits;
    private final FindingList findings;
    private final TreeMap<String, Long> files = new TreeMap<>(MemberPath.ORDER);
    private final TreeSet<String> folders = new TreeSet<>();
    private @Nullable Iterator<String> left;
    private @Nullable InputStream current;

    FolderSource(Path folder, BagLimits limits, FindingList findings) {
        this.folder = folder;
        this.limits = limits;
        this.findings = findings;
    }

    @Override
    public Optional<Member> next() throws IOException {
        if (left == null) {
            Files.walkFileTree(folder, new Walk());
            reportEmptyFolders();
            reportFoldedDoubles();
            left = files.keySet().iterator();
        }
        close();
        while (left.hasNext()) {
            Optional<Member> member = open(left.next());
            if (member.isPresent()) {
                return member;
            }
        }
        return Optional.empty();
    }

    private Optional<Member> open(String path) {
        try {
            InputStream in = Files.newInputStream(folder.resolve(path), LinkOption.NOFOLLOW_LINKS);
            current = in;
            return Optional.of(Member.of(path, files.getOrDefault(path, 0L), in));
        } catch (IOException e) {
            findings.add(path, Finding.Kind.UNREADABLE, "cannot be read: " + Trouble.words(e));
            return Optional.empty();
        }
    }

    private void reportEmptyFolders() {
        for (String name : folders) {
            boolean last = folders.ceiling(name + "/") == null
                    || !String.valueOf(folders.ceiling(name + "/")).startsWith(name + "/");
            String next = files.ceilingKey(name + "/");
            boolean empty = next == null || !next.startsWith(name + "/");
            if (last && empty && !name.equals("signatures") && !name.equals("names")) {
                findings.add(name, Finding.Kind.EXTRA, "is a folder without files that belong to the bag");
            }
        }
    }

    private void reportFoldedDoubles() {
        Set<String> folded = new HashSet<>();
        for (String path : files.keySet()) {
            if (!folded.add(MemberPath.folded(path))) {
                findings.add(path, Finding.Kind.EXTRA, "stands beside a name that differs only in case");
            }
        }
    }

    @Override
    public String top() {
        return "";
    }

    @Override
    public void close() throws IOException {
        if (current != null) {
            current.close();
            current = null;
        }
    }

    /** Collects what may be opened and reports the rest. */
    private final class Walk extends SimpleFileVisitor<Path> {
        private int count;

        @Override
        public FileVisitResult preVisitDirectory(Path dir, BasicFileAttributes attributes) throws IOException {
            count(0);
            if (!dir.equals(folder)) {
                folders.add(relative(dir));
            }
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
            count(1);
            String path = relative(file);
            if (attributes.isSymbolicLink()) {
                findings.add(
                        path,
                        Finding.Kind.LINK,
                        "is a symbolic link; only regular files are taken, and none is followed");
            } else if (!attributes.isRegularFile()) {
                findings.add(path, Finding.Kind.LINK, "is a device, pipe or socket; only regular files are taken");
            } else if (MemberPath.problem(path).isPresent()) {
                findings.add(
                        path,
                        Finding.Kind.EXTRA,
                        "belongs to no bag: its name "
                                + MemberPath.problem(path).get());
            } else {
                files.put(path, attributes.size());
            }
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFileFailed(Path file, IOException e) throws IOException {
            findings.add(relative(file), Finding.Kind.UNREADABLE, "cannot be read: " + Trouble.words(e));
            return FileVisitResult.CONTINUE;
        }

        private String relative(Path file) {
            return folder.relativize(file).toString().replace(java.io.File.separatorChar, '/');
        }

        private void count(int more) throws Stop {
            if (++count > 2 * limits.entries() || files.size() + more > limits.entries()) {
                throw Stop.bomb("holds more than " + limits.entries() + " files; reading stopped there");
            }
        }
    }
}
