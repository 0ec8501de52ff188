package org.shiftstand.archive;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.security.MessageDigest;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;

/** One reading of a whole bag: takes the digest of each file as it comes, then compares with what the manifests say. */
final class Examination {
    private static final Set<String> KEPT_PAYLOAD =
            Set.of("data/result.json", "data/judging.json", "data/software.json");
    private static final Set<String> TAG_FILES =
            Set.of(BagInfo.DECLARATION_FILE, BagInfo.FILE, Manifest.PAYLOAD, Manifest.TAG);

    /** A statement takes 2 KiB. */
    static final int MOST_ADDED = 1 << 16;

    private final BagLimits limits;
    private final Budget budget;
    private final FindingList findings;
    private final byte[] block = new byte[1 << 17];
    private final SortedMap<String, String> digests = new TreeMap<>(MemberPath.ORDER);
    private final Map<String, byte[]> small = new TreeMap<>();
    private final MessageDigest sha256 = Copy.sha256();
    private Optional<BagInfo> info = Optional.empty();
    private long octets;
    private int files;
    private long keptOctets;

    Examination(BagLimits limits, Budget budget, FindingList findings) {
        this.limits = limits;
        this.budget = budget;
        this.findings = findings;
    }

    BagCheck of(Source source) {
        boolean whole = readAll(source);
        compareTagFiles(whole);
        comparePayload(whole);
        byte[] tagManifest = small.get(Manifest.TAG);
        String digest = tagManifest == null ? "" : "sha256:" + Copy.sha256(tagManifest);
        return new BagCheck(digest, findings.list(), octets, files, small);
    }

    /** Whether the end was reached. */
    private boolean readAll(Source source) {
        try {
            for (Optional<Member> m = source.next(); m.isPresent(); m = source.next()) {
                take(m.get());
            }
            return true;
        } catch (Stop e) {
            findings.last(e.finding());
        } catch (IOException e) {
            findings.last(
                    new Finding(Finding.CONTAINER, Finding.Kind.UNREADABLE, "cannot be read on: " + Trouble.words(e)));
        }
        return false;
    }

    private void take(Member member) throws IOException {
        String path = member.path();
        if (path.startsWith("data/")) {
            files++;
            digest(member, KEPT_PAYLOAD.contains(path) ? limits.tagOctets() : 0);
        } else if (TAG_FILES.contains(path)) {
            takeTagFile(member);
        } else if (MemberPath.added(path)) {
            takeAdded(member);
        } else {
            findings.add(path, Finding.Kind.EXTRA, stranger(path));
        }
    }

    private void takeTagFile(Member member) throws IOException {
        if (!digest(member, limits.tagOctets())) {
            findings.add(member.path(), Finding.Kind.BOMB, "is larger than " + limits.tagOctets() + " bytes");
        }
        byte[] bytes = small.get(member.path());
        if (bytes != null && member.path().equals(BagInfo.FILE)) {
            info = BagInfo.read(bytes, findings);
            info.ifPresent(i -> budget.declare(i.octets()));
        }
    }

    private void takeAdded(Member member) throws IOException {
        if (!digest(member, MOST_ADDED)) {
            findings.add(member.path(), Finding.Kind.BOMB, "is larger than a signature or name can be");
        }
        digests.remove(member.path());
    }

    private static String stranger(String path) {
        if (path.equals("fetch.txt")) {
            return "names parts that lie elsewhere; a bag of this format is complete";
        }
        if (path.matches("(tag)?manifest-.*\\.txt")) {
            return "is a manifest of another algorithm; only SHA-256 is taken";
        }
        if (path.startsWith("signatures/")) {
            return "is no signature by its name, which is signatures/NNN-ROLE.json";
        }
        return "is in no manifest and does not belong to the bag";
    }

    /**
     * Reads to the end.
     *
     * @param keep most bytes to keep; 0 for none
     * @return false where it was to be kept and is too large
     */
    private boolean digest(Member member, int keep) throws IOException {
        sha256.reset();
        var kept = new ByteArrayOutputStream(keep > 0 ? 1 << 10 : 0);
        long read = 0;
        try {
            for (int n = member.content().read(block);
                    n >= 0;
                    n = member.content().read(block)) {
                sha256.update(block, 0, n);
                read += n;
                if (read <= keep) {
                    kept.write(block, 0, n);
                }
            }
        } catch (Stop e) {
            throw e;
        } catch (IOException e) {
            findings.add(member.path(), Finding.Kind.UNREADABLE, "cannot be read on: " + Trouble.words(e));
        }
        octets += member.path().startsWith("data/") ? read : 0;
        digests.put(member.path(), HexFormat.of().formatHex(sha256.digest()));
        return keep == 0 || keep(member.path(), kept, read <= keep);
    }

    private boolean keep(String path, ByteArrayOutputStream kept, boolean all) throws IOException {
        if (all) {
            keptOctets += kept.size();
            if (keptOctets > limits.freeOctets()) {
                throw Stop.bomb("holds more than " + limits.freeOctets() + " bytes of tag files, signatures and names");
            }
            small.put(path, kept.toByteArray());
        }
        return all;
    }

    private void compareTagFiles(boolean whole) {
        byte[] declaration = small.get(BagInfo.DECLARATION_FILE);
        if (declaration != null && !Arrays.equals(declaration, BagInfo.declaration())) {
            findings.add(
                    BagInfo.DECLARATION_FILE,
                    Finding.Kind.FORM,
                    "is not the two lines 'BagIt-Version: 1.0' and 'Tag-File-Character-Encoding: UTF-8'");
        }
        SortedMap<String, String> listed = listed(Manifest.TAG, whole);
        for (String file : TAG_FILES) {
            if (!file.equals(Manifest.TAG) && small.containsKey(Manifest.TAG) && !listed.containsKey(file)) {
                findings.add(file, Finding.Kind.EXTRA, "is not listed in " + Manifest.TAG);
            }
        }
        listed.forEach((file, hex) -> {
            if (!TAG_FILES.contains(file) || file.equals(Manifest.TAG)) {
                findings.add(
                        file,
                        Finding.Kind.FORM,
                        "is listed in " + Manifest.TAG + ", where only the other tag files are");
            } else {
                compare(file, hex, Manifest.TAG, whole);
            }
        });
    }

    private void comparePayload(boolean whole) {
        SortedMap<String, String> listed = listed(Manifest.PAYLOAD, whole);
        listed.forEach((file, hex) -> {
            if (file.startsWith("data/")) {
                compare(file, hex, Manifest.PAYLOAD, whole);
            } else {
                findings.add(file, Finding.Kind.ESCAPE, "is listed as payload and lies outside of data/");
            }
        });
        if (small.containsKey(Manifest.PAYLOAD)) {
            digests.keySet().stream()
                    .filter(file -> file.startsWith("data/") && !listed.containsKey(file))
                    .forEach(file -> findings.add(file, Finding.Kind.EXTRA, "is in no manifest"));
        }
        if (whole
                && info.isPresent()
                && (info.get().octets() != octets || info.get().files() != files)) {
            findings.add(
                    BagInfo.FILE,
                    Finding.Kind.FORM,
                    "states a Payload-Oxum of " + info.get().octets() + "."
                            + info.get().files() + ", the payload has " + octets + "." + files);
        }
    }

    private SortedMap<String, String> listed(String manifest, boolean whole) {
        byte[] bytes = small.get(manifest);
        if (bytes != null) {
            return Manifest.read(manifest, bytes, findings);
        }
        if (whole && !digests.containsKey(manifest)) {
            findings.add(
                    manifest,
                    Finding.Kind.MISSING,
                    "is missing; without it nothing shows whether the rest is unchanged");
        }
        return new TreeMap<>(MemberPath.ORDER);
    }

    private void compare(String file, String hex, String manifest, boolean whole) {
        String read = digests.get(file);
        if (read == null && whole) {
            findings.add(file, Finding.Kind.MISSING, "is listed in " + manifest + " and is not there");
        } else if (read != null && !read.equals(hex)) {
            findings.add(file, Finding.Kind.CHANGED, "has changed: its SHA-256 is not the one in " + manifest);
        }
    }
}
