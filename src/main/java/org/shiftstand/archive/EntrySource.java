package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.util.List;

/** Gives the files of a bag one after another, whatever form it has. */
interface EntrySource {
    /** Takes the files. */
    interface Visitor {
        /**
         * One plain file; to be read to its end before this returns.
         *
         * @param path in the bag, as the container has it: it may be any text
         */
        void file(String path, InputStream content) throws IOException;
    }

    /**
     * Visits every file once.
     *
     * @param findings takes whatever is wrong with the container
     * @throws IOException where it cannot be read on; what is wrong is in its message
     */
    void visit(Visitor visitor, List<Finding> findings) throws IOException;
}
