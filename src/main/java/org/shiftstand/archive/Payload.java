package org.shiftstand.archive;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;

/** The content of one file of a bag; may be read more than once, and gives the same bytes each time. */
public interface Payload {
    /** Length in bytes. */
    long octets() throws IOException;

    /** Opens it; the caller closes. */
    InputStream open() throws IOException;

    /** A file on disk, which must not change until the bag is written. */
    static Payload of(Path file) {
        return new Payload() {
            @Override
            public long octets() throws IOException {
                return Files.size(file);
            }

            @Override
            public InputStream open() throws IOException {
                return Files.newInputStream(file);
            }
        };
    }

    /** Bytes in memory. */
    static Payload of(byte[] bytes) {
        byte[] own = bytes.clone();
        return new Payload() {
            @Override
            public long octets() {
                return own.length;
            }

            @Override
            public InputStream open() {
                return new ByteArrayInputStream(own);
            }
        };
    }
}
