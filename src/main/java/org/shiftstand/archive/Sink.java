package org.shiftstand.archive;

import java.io.Closeable;
import java.io.IOException;

/** Takes the files of a bag in their order. */
interface Sink extends Closeable {
    void put(Member member) throws IOException;

    /** Writes what comes after the last file, and has the disk hold all of it. */
    void finish() throws IOException;
}
