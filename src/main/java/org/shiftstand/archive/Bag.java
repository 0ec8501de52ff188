package org.shiftstand.archive;

import java.io.ByteArrayInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * A bag on disk, of any form. Nothing stays open between calls; each call reads anew. Anything in it may be hostile: sizes are
 * believed only as far as {@link BagLimits} goes, no name leads out of the bag, no link is followed.
 */
public final class Bag implements AutoCloseable {
    private static final Set<Finding.Kind> HOSTILE =
            EnumSet.of(Finding.Kind.ESCAPE, Finding.Kind.LINK, Finding.Kind.BOMB, Finding.Kind.UNREADABLE);

    private final Path path;

    /** Where it really lies, whatever link it was named by: within it no link is followed. */
    private final Path place;

    private final BagForm form;
    private final BagLimits limits;

    private Bag(Path path, Path place, BagForm form, BagLimits limits) {
        this.path = path;
        this.place = place;
        this.form = form;
        this.limits = limits;
    }

    /**
     * Finds out in which form a bag lies there; reads nothing more yet.
     *
     * @throws BadInput where there is no folder, gzip or ZIP file
     */
    public static Bag open(Path path, BagLimits limits) {
        if (!Files.exists(path)) {
            throw Trouble.bad(path, "no such file or folder; check its name");
        }
        if (Files.isDirectory(path)) {
            return new Bag(path, real(path), BagForm.FOLDER, limits);
        }
        if (!Files.isRegularFile(path)) {
            throw Trouble.bad(path, "is a device, pipe or socket; expected a bag: a folder, .tar.gz or .zip");
        }
        return new Bag(path, real(path), archiveForm(path), limits);
    }

    private static Path real(Path path) {
        try {
            return path.toRealPath();
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
    }

    /** The same with the usual limits. */
    public static Bag open(Path path) {
        return open(path, BagLimits.DEFAULT);
    }

    /** Whether something looks like a bag from outside: a folder with {@code bagit.txt}, or an archive by its ending. */
    public static boolean looksLikeOne(Path path) {
        return Files.isDirectory(path, LinkOption.NOFOLLOW_LINKS)
                ? Files.exists(path.resolve(BagInfo.DECLARATION_FILE), LinkOption.NOFOLLOW_LINKS)
                : BagForm.of(path) != BagForm.FOLDER && Files.isRegularFile(path, LinkOption.NOFOLLOW_LINKS);
    }

    /** The same for a path that somebody named, which may be a link to a bag. */
    public static boolean isNamedBy(Path path) {
        try {
            return looksLikeOne(path.toRealPath());
        } catch (IOException e) {
            return false;
        }
    }

    private static BagForm archiveForm(Path path) {
        try (InputStream in = Files.newInputStream(path)) {
            byte[] first = in.readNBytes(2);
            if (first.length == 2 && first[0] == 0x1f && (first[1] & 0xFF) == 0x8b) {
                return BagForm.TAR_GZ;
            }
            if (first.length == 2 && first[0] == 'P' && first[1] == 'K') {
                return BagForm.ZIP;
            }
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
        BagForm named = BagForm.of(path);
        if (named == BagForm.FOLDER) {
            throw Trouble.bad(path, "is no bag; expected a folder with bagit.txt, a .tar.gz or a .zip");
        }
        return named;
    }

    /**
     * Reads every byte once and tells everything that is wrong, whatever the bytes are.
     *
     * @throws BadInput where there is no bag at all: neither its declaration nor a manifest
     */
    public BagCheck check() {
        var findings = new FindingList();
        var budget = new Budget(limits);
        try (Source source = source(budget, findings)) {
            BagCheck check = new Examination(limits, budget, findings).of(source);
            if (noBag(check)) {
                throw Trouble.bad(
                        path,
                        "is no bag: it holds neither bagit.txt nor a SHA-256 manifest; expected what 'shiftstand archive' writes");
            }
            return check;
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
    }

    /** Somebody's folder or archive of other things; one that is hostile or broken off gets its findings instead. */
    private static boolean noBag(BagCheck check) {
        return Stream.of(BagInfo.DECLARATION_FILE, Manifest.PAYLOAD, Manifest.TAG)
                        .noneMatch(check.small()::containsKey)
                && check.findings().stream().map(Finding::kind).noneMatch(HOSTILE::contains);
    }

    /**
     * Opens one file to be read from its start; its bytes are not compared with a manifest, which is {@link #check}'s.
     *
     * @param file path in the bag, such as {@code data/record.run}
     * @return to be closed by the caller; reading it throws where an archive is damaged before the file's end
     * @throws BadInput where there is no such file
     */
    public InputStream payload(String file) {
        return find(file)
                .orElseThrow(() -> Trouble.bad(
                        path, "holds no " + MemberPath.shown(file) + "; 'shiftstand verify' tells what is missing"));
    }

    /**
     * The content of one small file.
     *
     * @param file path in the bag, such as {@code bag-info.txt}
     * @return empty where it is not there or larger than a tag file may be
     */
    public Optional<byte[]> tag(String file) {
        Optional<InputStream> found = find(file);
        if (found.isEmpty()) {
            return Optional.empty();
        }
        try (InputStream in = found.get()) {
            byte[] bytes = in.readNBytes(limits.tagOctets() + 1);
            return bytes.length > limits.tagOctets() ? Optional.empty() : Optional.of(bytes);
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
    }

    /** Signature files by path, {@code signatures/001-tested-by.json}; reads the whole of an archive. */
    public Map<String, byte[]> signatures() {
        return below("signatures/");
    }

    /** Disclosed names by path, {@code names/….json}; reads the whole of an archive. */
    public Map<String, byte[]> names() {
        return below("names/");
    }

    private Map<String, byte[]> below(String folder) {
        var all = new TreeMap<String, byte[]>(MemberPath.ORDER);
        try (Source source = source(new Budget(limits), new FindingList())) {
            for (Optional<Member> m = source.next(); m.isPresent(); m = source.next()) {
                if (m.get().path().startsWith(folder)
                        && MemberPath.added(m.get().path())) {
                    all.put(m.get().path(), m.get().content().readNBytes(Examination.MOST_ADDED));
                }
            }
            return all;
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
    }

    /**
     * Puts the bag into a new folder and checks it there: what is in that folder afterwards is a bag without findings.
     *
     * @param dir must not exist
     * @return {@code dir}
     * @throws BadInput where it exists, or the bag is not sound; nothing is left there then
     */
    public Path extract(Path dir) {
        if (Files.exists(dir, LinkOption.NOFOLLOW_LINKS)) {
            throw Trouble.bad(dir, "exists already, and nothing is overwritten; name another folder");
        }
        Whole.make(dir, true, partial -> {
            copy(new FolderSink(partial), Additions.NONE, "");
            List<Finding> wrong = open(partial, limits).check().findings();
            refuse(wrong);
        });
        return dir;
    }

    /**
     * Adds a signature or a disclosed name; an archive is written anew beside its place and moved there.
     *
     * @param file path below {@code signatures/} or {@code names/}, not there yet
     * @throws BadInput where it is no such path or is there, an archive is damaged, or the bag has no room for one more file; the
     *     bag is as before then
     */
    public void add(String file, byte[] content) {
        var one = new TreeMap<String, byte[]>(MemberPath.ORDER);
        one.put(file, content);
        add(one, Optional.empty());
    }

    /**
     * Adds a signature and what belongs to it, unless somebody else has signed in between.
     *
     * @param files by path, as for {@link #add(String, byte[])}; those of a folder are added in the order of {@code signatures/}
     *     before {@code names/}
     * @param earlier signature files by path that the new one knows of
     * @return false, and nothing was added, where the bag has other signatures by now
     * @throws BadInput as for {@link #add(String, byte[])}
     */
    public boolean addAfter(SortedMap<String, byte[]> earlier, SortedMap<String, byte[]> files) {
        return add(files, Optional.of(earlier));
    }

    private boolean add(SortedMap<String, byte[]> files, Optional<SortedMap<String, byte[]>> earlier) {
        files.forEach((file, content) -> {
            requireAdded(file);
            if (content.length > Examination.MOST_ADDED) {
                throw Trouble.bad(
                        path,
                        file + " is larger than a bag takes; expected " + Examination.MOST_ADDED + " bytes at most");
            }
        });
        try (BagLock alone = BagLock.take(place)) {
            Additions held = additions();
            if (earlier.isPresent() && !held.hasSignatures(earlier.get())) {
                return false;
            }
            for (String file : files.keySet()) {
                if (held.files().containsKey(file)) {
                    throw Trouble.bad(
                            path,
                            "holds " + file
                                    + " already; nothing is overwritten. Sign in another role, or a bag without it");
                }
            }
            if (held.members() + files.size() > limits.entries()) {
                throw Trouble.bad(
                        path,
                        "holds " + held.members() + " of the " + limits.entries()
                                + " files that a bag may have: no room for " + String.join(" and ", files.keySet())
                                + ". Nothing was added; archive the run anew with fewer files");
            }
            if (form == BagForm.FOLDER) {
                FolderChange change = new FolderChange(place);
                // a signature first: it holds without its name, and a name without its signature would be a finding
                var signaturesFirst = new TreeMap<String, byte[]>(MemberPath.ORDER.reversed());
                signaturesFirst.putAll(files);
                signaturesFirst.forEach(change::add);
            } else {
                rewrite(new Additions(files, 0), "");
            }
            return true;
        }
    }

    /** What the bag holds outside of its manifests, and how many files it has; reads the whole of an archive. */
    private Additions additions() {
        var all = new TreeMap<String, byte[]>(MemberPath.ORDER);
        int members = 0;
        try (Source source = source(new Budget(limits), new FindingList())) {
            for (Optional<Member> m = source.next(); m.isPresent(); m = source.next()) {
                members++;
                if (MemberPath.added(m.get().path())) {
                    all.put(m.get().path(), m.get().content().readNBytes(Examination.MOST_ADDED));
                }
            }
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
        return new Additions(all, members);
    }

    /**
     * Takes out a signature or a disclosed name.
     *
     * @throws BadInput where it is not there, or an archive is damaged; the bag is as before then
     */
    public void remove(String file) {
        requireAdded(file);
        try (BagLock alone = BagLock.take(place)) {
            if (find(file).map(Bag::closed).isEmpty()) {
                throw Trouble.bad(path, "holds no " + file + "; 'shiftstand verify' tells what is missing");
            }
            if (form == BagForm.FOLDER) {
                new FolderChange(place).remove(file);
            } else {
                rewrite(Additions.NONE, file);
            }
        }
    }

    private void requireAdded(String file) {
        if (!MemberPath.added(file)) {
            throw Trouble.bad(
                    path,
                    MemberPath.shown(file)
                            + " is no name for a signature or a name; expected signatures/NNN-ROLE.json or names/NAME.json, all of small letters");
        }
    }

    private void rewrite(Additions added, String left) {
        Whole.make(place, false, partial -> {
            try (Sink sink = BagWriter.sink(form, partial, top())) {
                copy(sink, added, left);
                sink.finish();
            }
        });
    }

    private String top() throws IOException {
        try (Source source = source(new Budget(limits), new FindingList())) {
            source.next();
            return source.top();
        }
    }

    /** Copies all files but one; those that are added go to their place in the order. */
    private void copy(Sink sink, Additions added, String left) throws IOException {
        var findings = new FindingList();
        var open = new TreeMap<String, byte[]>(MemberPath.ORDER);
        open.putAll(added.files());
        try (Source source = source(new Budget(limits), findings)) {
            for (Optional<Member> m = source.next(); m.isPresent(); m = source.next()) {
                while (!open.isEmpty() && MemberPath.ORDER.compare(m.get().path(), open.firstKey()) > 0) {
                    put(sink, open.pollFirstEntry());
                }
                if (!m.get().path().equals(left)) {
                    sink.put(m.get());
                }
            }
        }
        while (!open.isEmpty()) {
            put(sink, open.pollFirstEntry());
        }
        refuse(findings.list());
    }

    private static void put(Sink sink, Map.Entry<String, byte[]> file) throws IOException {
        sink.put(Member.of(file.getKey(), file.getValue().length, new ByteArrayInputStream(file.getValue())));
    }

    private void refuse(List<Finding> findings) {
        if (!findings.isEmpty()) {
            throw new BadInput(findings.stream()
                    .map(f -> new Problem(path.toString(), 0, 0, f.toString()))
                    .toList());
        }
    }

    private static boolean closed(InputStream in) {
        try {
            in.close();
            return true;
        } catch (IOException e) {
            return true; // it was there, which is all that is asked
        }
    }

    private Optional<InputStream> find(String file) {
        if (MemberPath.problem(file).isPresent()) {
            return Optional.empty();
        }
        try {
            return form == BagForm.FOLDER ? new FolderChange(place).open(file) : findArchived(file);
        } catch (IOException e) {
            throw Trouble.bad(
                    path, "cannot be read (" + Trouble.words(e) + "); check its rights, and that its disk is there");
        }
    }

    private Optional<InputStream> findArchived(String file) throws IOException {
        Source source = source(new Budget(limits), new FindingList());
        boolean found = false;
        try {
            for (Optional<Member> m = source.next(); m.isPresent(); m = source.next()) {
                if (m.get().path().equals(file)) {
                    found = true;
                    return Optional.of(new Found(m.get().content(), source));
                }
            }
            return Optional.empty();
        } finally {
            if (!found) {
                source.close();
            }
        }
    }

    private Source source(Budget budget, FindingList findings) throws IOException {
        return switch (form) {
            case FOLDER -> new FolderSource(place, limits, findings);
            case TAR_GZ -> new TarGzSource(Files.newInputStream(place), limits, budget, findings);
            case ZIP -> new ZipSource(Files.newInputStream(place), limits, budget, findings);
        };
    }

    /**
     * Signatures and names.
     *
     * @param files by path
     * @param members of the whole bag, those among them
     */
    private record Additions(SortedMap<String, byte[]> files, int members) {
        static final Additions NONE = new Additions(new TreeMap<>(), 0);

        boolean hasSignatures(SortedMap<String, byte[]> expected) {
            SortedMap<String, byte[]> here = files.subMap("signatures/", "signatures0"); // '0' follows '/'
            return here.keySet().equals(expected.keySet())
                    && here.keySet().stream().allMatch(f -> Arrays.equals(here.get(f), expected.get(f)));
        }
    }

    /** Nothing is held open; there so that callers need not know. */
    @Override
    public void close() {
        // nothing is held open
    }

    /** One file of an archive, which closes with it. */
    private static final class Found extends FilterInputStream {
        private final Source source;

        Found(InputStream content, Source source) {
            super(content);
            this.source = source;
        }

        @Override
        public void close() throws IOException {
            source.close();
        }
    }
}
