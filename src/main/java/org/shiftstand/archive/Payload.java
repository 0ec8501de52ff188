package org.shiftstand.archive;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;

/** The content of one file to be bagged; opened once, read to its end. */
public interface Payload {
    /** How many bytes {@link #open} gives. */
    long octets();

    InputStream open() throws IOException;

    /**
     * A regular file as it is now.
     *
     * @throws IOException where its size cannot be asked for
     */
    static Payload of(Path file) throws IOException {
        long octets = Files.size(file);
        return of(octets, () -> Files.newInputStream(file));
    }

    /** @param bytes not copied */
    static Payload of(byte[] bytes) {
        return of(bytes.length, () -> new ByteArrayInputStream(bytes));
    }

    private static Payload of(long octets, Opening opening) {
        return new Payload() {
            @Override
            public long octets() {
                return octets;
            }

            @Override
            public InputStream open() throws IOException {
                return opening.open();
            }
        };
    }

    /** Opens the content. */
    @FunctionalInterface
    interface Opening {
        InputStream open() throws IOException;
    }
}
