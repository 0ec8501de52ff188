package org.shiftstand.archive;

import java.io.Closeable;
import java.io.IOException;
import java.util.Optional;

/** The files of a bag in their order, each once. What is wrong with names and with what stands around files goes to findings. */
interface Source extends Closeable {
    /**
     * Reads to the end of the last file and begins the next.
     *
     * @return empty after the last, when everything behind it has been looked at too
     * @throws Stop where reading cannot or must not go on
     */
    Optional<Member> next() throws IOException;

    /** The one folder that all files of an archive are in; empty for a folder, and before the first file. */
    String top();
}
