package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;

/** Files in a folder that is new or empty. */
final class FolderSink implements EntrySink {
    private final Path folder;

    FolderSink(Path folder) {
        this.folder = folder;
    }

    @Override
    public void file(String path, long octets, InputStream content) throws IOException {
        Path file = folder.resolve(path);
        Files.createDirectories(file.getParent());
        Files.copy(content, file);
    }

    @Override
    public void close() {}
}
