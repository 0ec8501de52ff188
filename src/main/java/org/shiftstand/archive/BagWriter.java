package org.shiftstand.archive;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import org.shiftstand.document.BadInput;
import org.shiftstand.document.Problem;

/**
 * Writes bags of format 1: BagIt 1.0 (RFC 8493) with SHA-256 manifests, every byte decided by what goes in. Streams; memory
 * does not depend on the size of the payload.
 */
public final class BagWriter {
    private final Path out;
    private final SortedMap<String, String> payloadDigests = new TreeMap<>(MemberPath.ORDER);
    private final SortedMap<String, String> tagDigests = new TreeMap<>(MemberPath.ORDER);

    private BagWriter(Path out) {
        this.out = out;
    }

    /**
     * Writes a bag beside its place under a hidden name and moves it there when complete.
     *
     * @param out the folder or file to appear; an archive's top folder has its name without the ending
     * @param unit what was measured, for {@code External-Identifier}
     * @param software name and version of what writes, for {@code Bag-Software-Agent}
     * @param payload by path below {@code data/}; each is opened once and read to its end
     * @param names by file name below {@code names/}, ending in {@code .json}: outside of the manifests, removable
     * @param overwrite whether a file or a bag that stands there may be replaced; another folder never is
     * @return what is to be signed
     * @throws BadInput where something stands there, a name or value cannot be in a bag, a payload is not as large as it said, or
     *     reading or writing fails; nothing is left there then
     */
    public static BagDigest write(
            Path out,
            BagForm form,
            String unit,
            String software,
            SortedMap<String, Payload> payload,
            SortedMap<String, byte[]> names,
            boolean overwrite) {
        check(out, unit, software, payload, names);
        refuseExisting(out, form, overwrite);
        var digest = new ArrayList<BagDigest>();
        Whole.make(out, form == BagForm.FOLDER, partial -> {
            try (Sink sink = sink(form, partial, BagForm.topOf(out))) {
                digest.add(new BagWriter(out).fill(sink, unit, software, payload, names));
                sink.finish();
            }
            if (form != BagForm.FOLDER) {
                readBack(out, partial);
            }
        });
        return digest.get(0);
    }

    /** @param place a file or folder that is there and empty */
    static Sink sink(BagForm form, Path place, String top) throws IOException {
        return switch (form) {
            case FOLDER -> new FolderSink(place);
            case TAR_GZ -> new TarGzSink(new Durable(place), top);
            case ZIP -> new ZipSink(new Durable(place), top);
        };
    }

    private BagDigest fill(
            Sink sink,
            String unit,
            String software,
            SortedMap<String, Payload> payload,
            SortedMap<String, byte[]> names)
            throws IOException {
        long octets = payload.values().stream().mapToLong(Payload::octets).sum();
        tagFile(sink, BagInfo.FILE, new BagInfo(unit, software, octets, payload.size()).bytes());
        tagFile(sink, BagInfo.DECLARATION_FILE, BagInfo.declaration());
        var sorted = new TreeMap<String, Payload>(MemberPath.ORDER);
        sorted.putAll(payload);
        for (Map.Entry<String, Payload> file : sorted.entrySet()) {
            payload(sink, "data/" + file.getKey(), file.getValue());
        }
        tagFile(sink, Manifest.PAYLOAD, Manifest.bytes(payloadDigests));
        var sortedNames = new TreeMap<String, byte[]>(MemberPath.ORDER);
        sortedNames.putAll(names);
        for (Map.Entry<String, byte[]> name : sortedNames.entrySet()) {
            put(sink, "names/" + name.getKey(), name.getValue());
        }
        byte[] tagManifest = Manifest.bytes(tagDigests);
        put(sink, Manifest.TAG, tagManifest);
        return new BagDigest("sha256:" + Copy.sha256(tagManifest));
    }

    private void payload(Sink sink, String path, Payload payload) throws IOException {
        MessageDigest sha256 = Copy.sha256();
        try (var in = new Measured(path, open(path, payload), sha256, payload.octets())) {
            sink.put(Member.of(path, payload.octets(), in));
            if (in.read() >= 0 || in.left != 0) {
                throw in.otherSize();
            }
        }
        payloadDigests.put(path, HexFormat.of().formatHex(sha256.digest()));
    }

    private InputStream open(String path, Payload payload) {
        try {
            return payload.open();
        } catch (IOException e) {
            throw unreadable(path, e);
        }
    }

    private BadInput unreadable(String path, IOException e) {
        return Trouble.bad(
                out,
                path + " cannot be read (" + Trouble.words(e)
                        + "); nothing was written. Check its rights, and that its disk is there");
    }

    private void tagFile(Sink sink, String path, byte[] bytes) throws IOException {
        put(sink, path, bytes);
        tagDigests.put(path, Copy.sha256(bytes));
    }

    private static void put(Sink sink, String path, byte[] bytes) throws IOException {
        sink.put(Member.of(path, bytes.length, new ByteArrayInputStream(bytes)));
    }

    private static void check(
            Path out, String unit, String software, Map<String, Payload> payload, Map<String, byte[]> names) {
        var problems = new ArrayList<Problem>();
        for (String value : List.of(unit, software)) {
            if (!BagInfo.fits(value)) {
                problems.add(problem(
                        out,
                        "'" + MemberPath.shown(value) + "' cannot be in " + BagInfo.FILE
                                + "; 1 to 200 characters on one line are expected"));
            }
        }
        Set<String> folded = new HashSet<>();
        for (String path : payload.keySet()) {
            MemberPath.problem(path)
                    .ifPresent(p -> problems.add(problem(out, "data/" + MemberPath.shown(path) + " " + p)));
            if (!folded.add(MemberPath.folded(path))) {
                problems.add(problem(
                        out,
                        "data/" + MemberPath.shown(path)
                                + " stands beside a name that differs only in case; rename one of them"));
            }
        }
        for (String name : names.keySet()) {
            if (!MemberPath.added("names/" + name)) {
                problems.add(problem(
                        out, "names/" + MemberPath.shown(name) + " is no name of letters and digits ending in .json"));
            }
        }
        int most = BagLimits.DEFAULT.entries() - 4 - BagLimits.ADDED_LATER;
        if (payload.isEmpty() || payload.size() + names.size() > most) {
            problems.add(problem(
                    out,
                    "would hold " + payload.size() + " payload files; 1 to " + most
                            + " with the names are expected, so that signatures have room"));
        }
        if (!problems.isEmpty()) {
            throw new BadInput(problems);
        }
    }

    private static Problem problem(Path out, String text) {
        return new Problem(out.toString(), 0, 0, text);
    }

    private static void refuseExisting(Path out, BagForm form, boolean overwrite) {
        if (!Files.exists(out, LinkOption.NOFOLLOW_LINKS)) {
            return;
        }
        if (!overwrite) {
            throw Trouble.bad(out, "exists already, and nothing is overwritten; name another file, or add --force");
        }
        boolean folder = Files.isDirectory(out, LinkOption.NOFOLLOW_LINKS);
        if (folder != (form == BagForm.FOLDER)) {
            throw Trouble.bad(
                    out, folder ? "is a folder; a file name is expected" : "is a file; a folder's name is expected");
        }
        if (folder && !Files.isRegularFile(out.resolve(BagInfo.DECLARATION_FILE), LinkOption.NOFOLLOW_LINKS)) {
            throw Trouble.bad(out, "is a folder and no bag; it is not replaced. Name another folder");
        }
    }

    /** Reads an archive back, so that none is left behind that is refused later: as a bomb, or because the disk lied. */
    private static void readBack(Path out, Path partial) {
        List<Finding> wrong = Bag.open(partial, BagLimits.DEFAULT).check().findings();
        if (!wrong.isEmpty()) {
            throw new BadInput(wrong.stream()
                    .map(f -> problem(out, "would not be read back (" + f + "); nothing was written. Write a folder"))
                    .toList());
        }
    }

    /** A payload on its way: its digest, and whether it is as large as it said. */
    private final class Measured extends DigestInputStream {
        private final String path;
        private final long said;
        private long left;

        Measured(String path, InputStream in, MessageDigest sha256, long octets) {
            super(in, sha256);
            this.path = path;
            this.said = octets;
            this.left = octets;
        }

        @Override
        public int read() throws IOException {
            int b = super.read();
            left -= b < 0 ? 0 : 1;
            return b;
        }

        @Override
        public int read(byte[] bytes, int from, int count) {
            try {
                int n = super.read(bytes, from, count);
                left -= Math.max(n, 0);
                if (left < 0 || n < 0 && left > 0) {
                    throw otherSize();
                }
                return n;
            } catch (IOException e) {
                throw unreadable(path, e);
            }
        }

        BadInput otherSize() {
            return Trouble.bad(
                    out,
                    path + " is not of the " + said
                            + " bytes that it had before; it changed while it was read. Wait until nothing writes it any more, and archive again");
        }
    }
}
