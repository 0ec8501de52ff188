package org.shiftstand.archive;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.shiftstand.archive.Finding.Kind;

/** Reads every byte of a bag once and gathers what is wrong. One checker a bag. */
final class BagChecker implements EntrySource.Visitor {
    private static final Pattern OXUM = Pattern.compile("(?m)^Payload-Oxum: (\\d{1,18})\\.(\\d{1,9})$");
    private static final Pattern KEPT = Pattern.compile("[^/]+|(signatures|names)/.*|data/[a-z]+\\.json");

    private final BagLimits limits;
    private final @Nullable Path into;
    private final List<Finding> findings = new ArrayList<>();
    private final SortedMap<String, String> digests = new TreeMap<>();
    private final SortedMap<String, byte[]> small = new TreeMap<>();
    private final Set<String> lowerCase = new HashSet<>();
    private long octets;
    private long payloadOctets;
    private int payloadFiles;

    /** @param into an empty folder that plain files are copied to on the way; null for none */
    BagChecker(BagLimits limits, @Nullable Path into) {
        this.limits = limits;
        this.into = into;
    }

    /** Everything about the bag. */
    BagCheck check(EntrySource source, String bag) {
        try {
            source.visit(this, findings);
        } catch (Gzip.Bomb e) {
            findings.add(new Finding(bag, Kind.BOMB, e.getMessage() + "; it was read no further"));
            return result();
        } catch (IOException e) {
            findings.add(new Finding(bag, Kind.UNREADABLE, "cannot be read to its end: " + reason(e)));
            return result();
        }
        tags();
        payload();
        return result();
    }

    private static String reason(IOException e) {
        return e.getMessage() == null ? "it is damaged, or cut short" : BagPath.shown(e.getMessage());
    }

    private BagCheck result() {
        Optional<String> digest =
                Optional.ofNullable(small.get(Manifest.TAG_NAME)).map(bytes -> "sha256:" + Digest.hex(bytes));
        return new BagCheck(digest, findings.stream().distinct().toList(), digests.size(), octets, small);
    }

    @Override
    public void file(String path, InputStream content) throws IOException {
        Optional<Finding> wrong = BagPath.wrong(path);
        if (wrong.isPresent()) {
            findings.add(wrong.get());
            return;
        }
        if (!lowerCase.add(path.toLowerCase(Locale.ROOT))) {
            findings.add(new Finding(path, Kind.EXTRA, "is there twice, but for upper and lower case"));
            return;
        }
        boolean keep = KEPT.matcher(path).matches();
        ByteArrayOutputStream kept = new ByteArrayOutputStream();
        try (OutputStream out = keep ? kept : copy(path)) {
            digests.put(path, Digest.copy(counted(path, content, keep), out));
        }
        if (keep) {
            small.put(path, kept.toByteArray());
            try (OutputStream out = copy(path)) {
                kept.writeTo(out);
            }
        }
    }

    private OutputStream copy(String path) throws IOException {
        if (into == null) {
            return OutputStream.nullOutputStream();
        }
        Path file = into.resolve(path);
        Files.createDirectories(file.getParent());
        return Files.newOutputStream(file, java.nio.file.StandardOpenOption.CREATE_NEW);
    }

    /** Counts; a payload may not have more than the bag says, nor a small file more than is kept of one. */
    private InputStream counted(String path, InputStream content, boolean keep) {
        boolean payload = path.startsWith(BagPath.PAYLOAD);
        payloadFiles += payload ? 1 : 0;
        long said = oxum().map(m -> Long.parseLong(m.group(1))).orElse(Long.MAX_VALUE);
        return new java.io.FilterInputStream(content) {
            private long count;

            @Override
            public int read(byte[] b, int off, int len) throws IOException {
                int n = super.read(b, off, len);
                count += Math.max(0, n);
                octets += Math.max(0, n);
                payloadOctets += payload ? Math.max(0, n) : 0;
                if (keep && count > limits.smallOctets()) {
                    throw new Gzip.Bomb("has " + path + " with more than " + limits.smallOctets() + " bytes");
                }
                if (payloadOctets > said && into != null) {
                    throw new Gzip.Bomb("holds more than the " + said + " bytes that it says");
                }
                return n;
            }
        };
    }

    private Optional<Matcher> oxum() {
        return Optional.ofNullable(small.get(BagTags.INFO))
                .map(bytes -> OXUM.matcher(new String(bytes, StandardCharsets.UTF_8)))
                .filter(Matcher::find);
    }

    private void tags() {
        SortedMap<String, String> tags = read(Manifest.TAG_NAME);
        for (String tag : List.of(BagTags.INFO, BagTags.BAGIT, Manifest.NAME)) {
            compare(tag, tags.get(tag), Manifest.TAG_NAME);
        }
        tags.keySet().stream()
                .filter(tag -> !BagTags.ALL.contains(tag))
                .forEach(tag -> findings.add(new Finding(
                        Manifest.TAG_NAME, Kind.FORM, "lists " + BagPath.shown(tag) + ", which is no tag file here")));
        byte[] bagit = small.get(BagTags.BAGIT);
        if (bagit != null && !Arrays.equals(bagit, BagTags.bagit())) {
            findings.add(new Finding(BagTags.BAGIT, Kind.FORM, "is not that of BagIt 1.0 in UTF-8"));
        }
        byte[] info = small.get(BagTags.INFO);
        if (info != null && !BagTags.format(info).equals(Optional.of(BagTags.FORMAT))) {
            findings.add(new Finding(
                    BagTags.INFO,
                    Kind.FORM,
                    "does not say 'Shiftstand-Bag-Format: " + BagTags.FORMAT + "'; this program reads that format"));
        }
        if (info != null
                && !oxum().map(m -> m.group(1) + "." + m.group(2))
                        .equals(Optional.of(payloadOctets + "." + payloadFiles))) {
            findings.add(new Finding(
                    BagTags.INFO,
                    Kind.CHANGED,
                    "says Payload-Oxum "
                            + oxum().map(m -> m.group(1) + "." + m.group(2)).orElse("nothing")
                            + ", and the payload has "
                            + payloadOctets + " bytes in " + payloadFiles + " files"));
        }
    }

    private void payload() {
        SortedMap<String, String> listed = read(Manifest.NAME);
        listed.forEach((path, hex) -> compare(path, hex, Manifest.NAME));
        for (String path : digests.keySet()) {
            if (path.matches("(tag)?manifest-(?!sha256)[a-z0-9]+\\.txt")) {
                findings.add(
                        new Finding(path, Kind.DOWNGRADED, "is a manifest of another digest; only SHA-256 counts"));
            } else if (path.equals("fetch.txt")) {
                findings.add(new Finding(path, Kind.FORM, "asks for files from elsewhere; a bag of a run is whole"));
            } else if (!BagTags.ALL.contains(path)
                    && !path.equals(Manifest.TAG_NAME)
                    && !BagPath.beside(path)
                    && !listed.containsKey(path)) {
                findings.add(
                        new Finding(path, Kind.EXTRA, "is in no manifest: it was not there when the bag was made"));
            }
        }
        listed.keySet().stream()
                .filter(path -> !path.startsWith(BagPath.PAYLOAD))
                .forEach(path -> findings.add(new Finding(
                        Manifest.NAME, Kind.FORM, "lists " + BagPath.shown(path) + ", which is not below data/")));
    }

    private SortedMap<String, String> read(String manifest) {
        byte[] bytes = small.get(manifest);
        if (bytes == null) {
            findings.add(new Finding(manifest, Kind.MISSING, "is not there; a bag has it"));
            return new TreeMap<>();
        }
        List<Finding> wrong = new ArrayList<>();
        SortedMap<String, String> listed = Manifest.read(manifest, bytes, wrong);
        findings.addAll(wrong);
        return listed;
    }

    private void compare(String path, @Nullable String listed, String manifest) {
        String is = digests.get(path);
        if (listed == null && is != null) {
            findings.add(new Finding(path, Kind.EXTRA, "is not listed in " + manifest));
        } else if (is == null) {
            findings.add(new Finding(BagPath.shown(path), Kind.MISSING, "is not there, and the bag was made with it"));
        } else if (!is.equals(listed)) {
            findings.add(new Finding(path, Kind.CHANGED, "its SHA-256 is not the one in " + manifest));
        }
    }
}
