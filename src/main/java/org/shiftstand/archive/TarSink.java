package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveOutputStream;

/** A tar stream (POSIX ustar, pax where a value does not fit) that says nothing of the machine or time it was made on. */
final class TarSink implements EntrySink {
    /** The first instant that a ZIP can tell, so that both forms say the same. */
    static final Instant WRITTEN = Instant.parse("1980-01-01T00:00:00Z");

    private static final int PLAIN_FILE_FOR_ALL_TO_READ = 0100644;

    private final TarArchiveOutputStream tar;
    private final String top;

    TarSink(OutputStream out, String top) {
        this.tar = new TarArchiveOutputStream(out, StandardCharsets.UTF_8.name());
        this.top = top;
        tar.setLongFileMode(TarArchiveOutputStream.LONGFILE_POSIX);
        tar.setBigNumberMode(TarArchiveOutputStream.BIGNUMBER_POSIX);
    }

    @Override
    public void file(String path, long octets, InputStream content) throws IOException {
        content.transferTo(begin(path, octets));
        end();
    }

    /** Begins a file; what is written then is its content, of exactly this length. */
    OutputStream begin(String path, long octets) throws IOException {
        TarArchiveEntry entry = new TarArchiveEntry(top + "/" + path);
        entry.setSize(octets);
        entry.setMode(PLAIN_FILE_FOR_ALL_TO_READ);
        entry.setIds(0, 0);
        entry.setNames("", ""); // the library would take the name of whoever runs it
        entry.setLastModifiedTime(FileTime.from(WRITTEN));
        tar.putArchiveEntry(entry);
        return tar;
    }

    /** Ends the file that was begun. */
    void end() throws IOException {
        tar.closeArchiveEntry();
    }

    @Override
    public void close() throws IOException {
        tar.close();
    }
}
