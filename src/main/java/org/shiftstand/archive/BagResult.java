package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * The result in a bag, without reading its samples: it is held against the manifest, and the manifest against the tag manifest.
 * Whoever needs to know that the rest is whole checks the bag.
 *
 * @param result bytes of {@code data/result.json}
 * @param names disclosed names by path
 * @param findings why the result is not to be used; then it is empty
 */
public record BagResult(byte[] result, SortedMap<String, byte[]> names, List<Finding> findings) {
    private static final String NAMES = "names/";
    private static final String RESULT = "data/result.json";

    /**
     * Reads it. A packed bag is unpacked and checked as a whole, since its files come one after another.
     *
     * @throws org.shiftstand.document.BadInput where there is no bag
     */
    public static BagResult read(Path bag) {
        if (!Files.isDirectory(bag, LinkOption.NOFOLLOW_LINKS)) {
            BagCheck check = Bag.open(bag).check();
            byte[] result = check.small().getOrDefault(RESULT, new byte[0]);
            return new BagResult(check.sound() ? result : new byte[0], check.below(NAMES), check.findings());
        }
        FindingList findings = new FindingList();
        byte[] tags = bytes(bag, Manifest.TAG, findings);
        byte[] manifest = bytes(bag, Manifest.PAYLOAD, findings);
        byte[] result = bytes(bag, RESULT, findings);
        if (findings.list().isEmpty()) {
            compare(Manifest.PAYLOAD, manifest, Manifest.read(Manifest.TAG, tags, findings), findings);
            compare(RESULT, result, Manifest.read(Manifest.PAYLOAD, manifest, findings), findings);
        }
        return new BagResult(findings.list().isEmpty() ? result : new byte[0], names(bag), findings.list());
    }

    private static void compare(String path, byte[] bytes, SortedMap<String, String> listed, FindingList findings) {
        if (!Digest.hex(bytes).equals(listed.get(path))) {
            findings.add(new Finding(path, Finding.Kind.CHANGED, "its SHA-256 is not the one in the manifest"));
        }
    }

    private static byte[] bytes(Path bag, String path, FindingList findings) {
        Path file = bag.resolve(path);
        int most = BagLimits.DEFAULT.tagOctets();
        if (!Files.isRegularFile(file, LinkOption.NOFOLLOW_LINKS)) {
            findings.add(new Finding(path, Finding.Kind.MISSING, "is not there"));
            return new byte[0];
        }
        try (InputStream in = Files.newInputStream(file, LinkOption.NOFOLLOW_LINKS)) {
            byte[] bytes = in.readNBytes(most + 1);
            if (bytes.length > most) {
                findings.add(new Finding(path, Finding.Kind.BOMB, "has more than " + most + " bytes"));
            }
            return bytes;
        } catch (IOException e) {
            findings.add(new Finding(path, Finding.Kind.UNREADABLE, "cannot be read"));
            return new byte[0];
        }
    }

    private static SortedMap<String, byte[]> names(Path bag) {
        SortedMap<String, byte[]> names = new TreeMap<>();
        Path folder = bag.resolve("names");
        if (!Files.isDirectory(folder, LinkOption.NOFOLLOW_LINKS)) {
            return names;
        }
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.sorted().limit(BagLimits.DEFAULT.entries()).toList()) {
                String path = NAMES + file.getFileName();
                if (MemberPath.added(path)) {
                    names.put(path, bytes(bag, path, new FindingList()));
                }
            }
        } catch (IOException e) {
            return new TreeMap<>(); // names that cannot be read are not disclosed
        }
        return names;
    }
}
