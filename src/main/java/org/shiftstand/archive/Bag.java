package org.shiftstand.archive;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.shiftstand.document.BadInput;

/**
 * A bag on disk, in any of its forms. Nothing in it is trusted: reading it gives findings, never an exception for what it holds, and
 * takes bounded memory.
 */
public final class Bag {
    private final Path path;
    private final BagForm form;
    private final BagLimits limits;

    private Bag(Path path, BagForm form, BagLimits limits) {
        this.path = path;
        this.form = form;
        this.limits = limits;
    }

    /**
     * A bag at a path; reads nothing of it yet.
     *
     * @throws BadInput where there is nothing, or no form of a bag
     */
    public static Bag open(Path path) {
        return open(path, BagLimits.usual());
    }

    static Bag open(Path path, BagLimits limits) {
        if (!Files.exists(path, LinkOption.NOFOLLOW_LINKS)) {
            throw Replaced.bad(path, "no such bag; expected a folder, or a file that ends in .tar.gz or .zip");
        }
        Path real = path;
        if (Files.isSymbolicLink(path)) { // the link that the user named may be followed, none inside
            try {
                real = path.toRealPath();
            } catch (IOException e) {
                throw Replaced.bad(path, "is a link that leads nowhere");
            }
        }
        BagForm form = BagForm.of(real);
        boolean file = Files.isRegularFile(real);
        if (form == BagForm.FOLDER ? !Files.isDirectory(real) : !file) {
            throw Replaced.bad(path, "is no bag; expected a folder, or a file that ends in .tar.gz or .zip");
        }
        return new Bag(real, form, limits);
    }

    /** Whether something looks like a bag from outside: a folder with {@code bagit.txt}, or a packed file by its ending. */
    public static boolean looksLikeOne(Path path) {
        return Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS)
                ? Files.exists(path.resolve(BagTags.BAGIT), LinkOption.NOFOLLOW_LINKS)
                : BagForm.named(path) != BagForm.FOLDER && Files.isRegularFile(path, LinkOption.NOFOLLOW_LINKS);
    }

    public Path path() {
        return path;
    }

    /** Reads every byte once; blocks while it does. */
    public BagCheck check() {
        return check(null);
    }

    /**
     * The same, and copies plain files to an empty folder on the way.
     *
     * @return what is wrong; the copy is to be used only where nothing is
     */
    public BagCheck checkInto(Path folder) {
        return check(folder);
    }

    private BagCheck check(@Nullable Path into) {
        return new BagChecker(limits, into).check(source(), String.valueOf(path.getFileName()));
    }

    private EntrySource source() {
        return switch (form) {
            case FOLDER -> new FolderSource(path, limits);
            case TAR_GZ -> new TarSource(path, limits);
            case ZIP -> new ZipSource(path, limits);
        };
    }

    /**
     * Adds a signature or name, without touching what the bag's digest is over. A packed bag is written anew and takes the old one's
     * place when complete.
     *
     * @param file path in the bag, below {@code signatures/} or {@code names/}; must not be there
     */
    public void add(String file, byte[] content) {
        change(file, content);
    }

    /** Takes a signature or name away; nothing happens where it is not there. */
    public void remove(String file) {
        change(file, null);
    }

    private void change(String file, byte @Nullable [] content) {
        if (!BagPath.beside(file)) {
            throw new IllegalArgumentException("no path for a signature or name: file=" + file);
        }
        if (form != BagForm.FOLDER) {
            Replaced.by(path, form, true, sink -> copy(sink, file, content));
            return;
        }
        try {
            Path target = path.resolve(file);
            if (content == null) {
                Files.deleteIfExists(target);
                return;
            }
            Files.createDirectories(target.getParent());
            Path partial = Files.createTempFile(path.toAbsolutePath().getParent(), ".partial-", null);
            try {
                Files.write(partial, content);
                Files.setPosixFilePermissions(
                        partial, java.nio.file.attribute.PosixFilePermissions.fromString("rw-r--r--"));
                Files.move(partial, target);
            } finally {
                Files.deleteIfExists(partial);
            }
        } catch (IOException e) {
            throw Replaced.bad(path.resolve(file), "cannot be written (" + Replaced.cause(e) + ")");
        }
    }

    private boolean copy(EntrySink sink, String file, byte @Nullable [] content) throws IOException {
        List<Finding> findings = new ArrayList<>();
        SortedMap<String, byte[]> waiting = new TreeMap<>();
        if (content != null) {
            waiting.put(file, content);
        }
        source().visit(
                        (name, in) -> {
                            write(waiting.headMap(name), sink);
                            if (!name.equals(file)) {
                                whole(sink, name, in);
                            }
                        },
                        findings);
        write(waiting, sink);
        if (!findings.isEmpty()) {
            throw new IOException("the bag is damaged: " + findings.get(0));
        }
        return true;
    }

    private static void write(SortedMap<String, byte[]> files, EntrySink sink) throws IOException {
        for (Map.Entry<String, byte[]> file : files.entrySet()) {
            sink.file(file.getKey(), file.getValue().length, new ByteArrayInputStream(file.getValue()));
        }
        files.clear();
    }

    /** The length must be known before the content: a spool says it. */
    private static void whole(EntrySink sink, String name, InputStream in) throws IOException {
        Path spool = Files.createTempFile("shiftstand-", ".spool");
        try {
            Files.copy(in, spool, java.nio.file.StandardCopyOption.REPLACE_EXISTING);
            try (InputStream again = Files.newInputStream(spool)) {
                sink.file(name, Files.size(spool), again);
            }
        } finally {
            Files.deleteIfExists(spool);
        }
    }
}
