package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Writes bags: BagIt 1.0 (RFC 8493) with SHA-256 manifests. The same payload gives the same bytes, on every machine with the same
 * deflate library; unpacked, on every machine.
 */
public final class BagWriter {
    private BagWriter() {}

    /**
     * Writes a bag; it appears whole or not at all.
     *
     * @param bag where it goes; its ending says the form
     * @param unit id of the unit
     * @param software name and version of the program
     * @param payload by path in the bag, each below {@code data/}
     * @param names disclosed names, by path below {@code names/}
     * @param overwrite whether a bag of that name may be replaced
     * @return the bag's digest
     * @throws org.shiftstand.document.BadInput where the bag is there already or cannot be written
     */
    public static String write(
            Path bag,
            String unit,
            String software,
            SortedMap<String, Payload> payload,
            SortedMap<String, byte[]> names,
            boolean overwrite) {
        return Replaced.by(bag, BagForm.named(bag), overwrite, sink -> write(unit, software, payload, names, sink));
    }

    private static String write(
            String unit,
            String software,
            SortedMap<String, Payload> payload,
            SortedMap<String, byte[]> names,
            EntrySink sink)
            throws IOException {
        SortedMap<String, String> digests = new TreeMap<>();
        long octets = 0;
        for (Map.Entry<String, Payload> file : payload.entrySet()) {
            if (!file.getKey().startsWith(BagPath.PAYLOAD) || !BagPath.plain(file.getKey())) {
                throw new IllegalArgumentException("no path of a payload: path=" + file.getKey());
            }
            octets += file.getValue().octets();
            try (InputStream in = file.getValue().open()) {
                digests.put(file.getKey(), Digest.copy(in, OutputStream.nullOutputStream()));
            }
        }
        SortedMap<String, byte[]> tags = new TreeMap<>();
        tags.put(BagTags.BAGIT, BagTags.bagit());
        tags.put(BagTags.INFO, BagTags.info(unit, software, octets, payload.size()));
        tags.put(Manifest.NAME, Manifest.bytes(digests));
        SortedMap<String, String> tagDigests = new TreeMap<>();
        tags.forEach((path, bytes) -> tagDigests.put(path, Digest.hex(bytes)));
        byte[] tagManifest = Manifest.bytes(tagDigests);
        SortedMap<String, Payload> all = new TreeMap<>(payload);
        tags.forEach((path, bytes) -> all.put(path, Payload.of(bytes)));
        all.put(Manifest.TAG_NAME, Payload.of(tagManifest));
        names.forEach((path, bytes) -> all.put(path, Payload.of(bytes)));
        for (Map.Entry<String, Payload> file : all.entrySet()) {
            try (InputStream in = file.getValue().open()) {
                sink.file(file.getKey(), file.getValue().octets(), in);
            }
        }
        return "sha256:" + Digest.hex(tagManifest);
    }
}
