package org.shiftstand.archive;

import java.io.InputStream;

/**
 * One file on its way in or out of a bag.
 *
 * @param path in the bag, with no top folder; already found to be safe
 * @param octets its size; −1 where it shows only at the end
 * @param large whether a ZIP keeps its sizes in 64 bits, see {@link ZipRecords#LARGE}
 * @param content to be read to its end, not closed
 */
record Member(String path, long octets, boolean large, InputStream content) {
    static Member of(String path, long octets, InputStream content) {
        return new Member(path, octets, octets >= ZipRecords.LARGE, content);
    }
}
