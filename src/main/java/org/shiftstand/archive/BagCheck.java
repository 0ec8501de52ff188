package org.shiftstand.archive;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Everything that is wrong with a bag, and the small files in it.
 *
 * @param digest SHA-256 of {@code tagmanifest-sha256.txt}, as {@code sha256:} and hex: it names the whole bag; empty where that
 *     file is not there
 * @param findings in the order of the bag's files; empty where no byte is otherwise than it was archived
 * @param files number of files
 * @param octets bytes of them
 * @param small signatures, names, and the JSON files of the payload, by path in the bag
 */
public record BagCheck(
        Optional<String> digest, List<Finding> findings, int files, long octets, SortedMap<String, byte[]> small) {
    public BagCheck {
        findings = List.copyOf(findings);
        small = java.util.Collections.unmodifiableSortedMap(new TreeMap<>(small));
    }

    /** Nothing is wrong. */
    public boolean whole() {
        return findings.isEmpty();
    }

    /** The small files below a folder: {@code signatures/}. */
    public SortedMap<String, byte[]> below(String folder) {
        SortedMap<String, byte[]> below = new TreeMap<>();
        for (Map.Entry<String, byte[]> file : small.entrySet()) {
            if (file.getKey().startsWith(folder)) {
                below.put(file.getKey(), file.getValue());
            }
        }
        return below;
    }
}
