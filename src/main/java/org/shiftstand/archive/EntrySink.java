package org.shiftstand.archive;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;

/** Where the files of a bag go, in the order of their paths. Closing completes what was written. */
interface EntrySink extends Closeable {
    /**
     * Writes one file.
     *
     * @param path in the bag
     * @param octets exactly what the content has
     */
    void file(String path, long octets, InputStream content) throws IOException;
}
