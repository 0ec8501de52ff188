package org.shiftstand.archive;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * What one reading of a whole bag showed.
 *
 * @param digest of the bag, {@code sha256:hex}: of the bytes of {@code tagmanifest-sha256.txt}; empty where that is missing
 * @param findings everything that is wrong, in the order of the bag; empty for a sound one
 * @param octets bytes of payload that were read
 * @param files payload files that were read
 * @param small contents by path: tag files, {@code signatures/*}, {@code names/*}, {@code data/result.json},
 *     {@code data/judging.json}, {@code data/software.json}; those that are there and no larger than the limit for a tag file
 */
public record BagCheck(String digest, List<Finding> findings, long octets, int files, Map<String, byte[]> small) {
    public BagCheck {
        findings = List.copyOf(findings);
        small = Collections.unmodifiableMap(new TreeMap<>(small));
    }

    /** Whether nothing is wrong; says nothing of signatures. */
    public boolean sound() {
        return findings.isEmpty();
    }

    /** The small files below a folder, by path: {@code signatures/}. */
    public SortedMap<String, byte[]> below(String folder) {
        SortedMap<String, byte[]> below = new TreeMap<>();
        small.forEach((path, bytes) -> {
            if (path.startsWith(folder)) {
                below.put(path, bytes);
            }
        });
        return below;
    }
}
