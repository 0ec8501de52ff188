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
import java.util.TreeSet;
import org.shiftstand.archive.Bag;
import org.shiftstand.archive.BagResult;
import org.shiftstand.archive.sign.SaltedName;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.FileTrouble;

/** Names that are disclosed beside runs and in bags, whose records and signatures hold only salted digests of them. */
public final class DisclosedNames {
    private static final String BESIDE_RECORD = "operator*.json";

    private DisclosedNames() {}

    /**
     * What was taken away.
     *
     * @param digests of the name
     * @param files that were deleted, or taken out of bags
     * @param wrong what could not be looked into, a sentence each
     */
    public record Removed(TreeSet<String> digests, int files, List<String> wrong) {}

    /**
     * Takes a name away from all bags and run folders in folders and below; blocks while it does.
     *
     * @param nameOrDigest as it was written, or its digest
     */
    public static Removed remove(List<Path> folders, String nameOrDigest) throws IOException {
        Walk walk = new Walk(nameOrDigest);
        for (Path folder : folders) {
            if (!Files.isDirectory(folder)) {
                walk.wrong.add(folder + ": no such folder; check its name");
            } else {
                Files.walkFileTree(folder, walk);
            }
        }
        return new Removed(walk.digests, walk.files, walk.wrong);
    }

    /** Names beside a record, by file name; only those that prove their digest. */
    public static Map<String, SaltedName> beside(Path record) throws IOException {
        Map<String, SaltedName> names = new TreeMap<>();
        Path folder = Optional.ofNullable(record.toAbsolutePath().getParent()).orElse(Path.of("."));
        try (var files = Files.newDirectoryStream(folder, BESIDE_RECORD)) {
            for (Path file : files) {
                if (Files.isRegularFile(file)) {
                    SaltedName.read(Files.readAllBytes(file))
                            .ifPresent(name -> names.put(String.valueOf(file.getFileName()), name));
                }
            }
        }
        return names;
    }

    /** The same names, by their digest. */
    public static Map<String, String> byDigest(Path record) throws IOException {
        Map<String, String> names = new TreeMap<>();
        beside(record).values().forEach(name -> names.put(name.digest(), name.name()));
        return names;
    }

    private static final class Walk extends SimpleFileVisitor<Path> {
        private final String wanted;
        private final TreeSet<String> digests = new TreeSet<>();
        private final List<String> wrong = new ArrayList<>();
        private int files;

        Walk(String wanted) {
            this.wanted = wanted;
        }

        private boolean meant(byte[] file) {
            Optional<SaltedName> name = SaltedName.read(file)
                    .filter(n -> n.name().equals(wanted) || n.digest().equals(wanted));
            name.ifPresent(n -> digests.add(n.digest()));
            return name.isPresent();
        }

        @Override
        public FileVisitResult preVisitDirectory(Path folder, BasicFileAttributes attributes) {
            if (Bag.looksLikeOne(folder)) {
                bag(folder);
                return FileVisitResult.SKIP_SUBTREE;
            }
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) throws IOException {
            if (Bag.looksLikeOne(file)) {
                bag(file);
            } else if (attributes.isRegularFile()
                    && String.valueOf(file.getFileName()).matches("operator.*\\.json")
                    && meant(Files.readAllBytes(file))) {
                Files.delete(file);
                files++;
            }
            return FileVisitResult.CONTINUE;
        }

        @Override
        public FileVisitResult visitFileFailed(Path file, IOException e) {
            wrong.add(file + ": cannot be read (" + FileTrouble.words(e) + "); check its rights");
            return FileVisitResult.CONTINUE;
        }

        private void bag(Path path) {
            try {
                for (Map.Entry<String, byte[]> name :
                        BagResult.read(path).names().entrySet()) {
                    if (meant(name.getValue())) {
                        Bag.open(path).remove(name.getKey());
                        files++;
                    }
                }
            } catch (BadInput e) {
                wrong.add(path + ": " + e.getMessage());
            }
        }
    }
}
