package org.shiftstand.archive;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.attribute.FileTime;
import java.time.Instant;
import org.apache.commons.compress.archivers.tar.TarArchiveEntry;
import org.apache.commons.compress.archivers.tar.TarArchiveOutputStream;

/** What stands in front of each file in a tar (POSIX ustar; names over 100 bytes and sizes from 8 GiB as GNU tar has them). */
final class TarHeader {
    static final int BLOCK = 512;

    /** Two blocks of zeros end a tar. */
    static final int END = 2 * BLOCK;

    /** 1980-01-01T00:00:00Z, the first time that a ZIP can tell. */
    private static final FileTime TIME = FileTime.from(Instant.ofEpochSecond(315_532_800));

    private TarHeader() {}

    static TarArchiveEntry entry(String name, long octets) {
        var entry = new TarArchiveEntry(name);
        entry.setSize(octets);
        entry.setLastModifiedTime(TIME);
        entry.setMode(0644);
        entry.setIds(0, 0);
        entry.setNames("", "");
        return entry;
    }

    static TarArchiveOutputStream stream(OutputStream out) {
        var tar = new TarArchiveOutputStream(out, "UTF-8");
        tar.setLongFileMode(TarArchiveOutputStream.LONGFILE_GNU);
        tar.setBigNumberMode(TarArchiveOutputStream.BIGNUMBER_STAR);
        return tar;
    }

    /** The blocks as the writer makes them. */
    static byte[] of(String name, long octets) throws IOException {
        var bytes = new ByteArrayOutputStream();
        // not closed: that would want the content, and nothing but memory is held
        TarArchiveOutputStream tar = stream(bytes);
        tar.putArchiveEntry(entry(name, octets));
        tar.flush();
        return bytes.toByteArray();
    }
}
