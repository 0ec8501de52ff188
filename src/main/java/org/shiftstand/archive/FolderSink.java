package org.shiftstand.archive;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;

/** Puts files into a folder that exists and is empty. */
final class FolderSink implements Sink {
    private final Path folder;

    FolderSink(Path folder) {
        this.folder = folder;
    }

    @Override
    public void put(Member member) throws IOException {
        Path file = folder.resolve(member.path());
        Path parent = file.getParent();
        if (parent != null) {
            Files.createDirectories(parent);
        }
        try (OutputStream out = new Durable(file)) {
            Copy.all(member.content(), out);
        }
    }

    @Override
    public void finish() {
        // each file is held already
    }

    @Override
    public void close() {
        // nothing is open between two files
    }
}
