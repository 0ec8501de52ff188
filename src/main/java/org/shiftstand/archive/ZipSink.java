package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.util.zip.CRC32;
import java.util.zip.CheckedInputStream;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.ZipEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveEntry;
import org.apache.commons.compress.archivers.zip.ZipArchiveOutputStream;

/** A ZIP that says nothing of the machine or time it was made on. Each file is deflated first, so that its header is complete. */
final class ZipSink implements EntrySink {
    private static final int PLAIN_FILE_FOR_ALL_TO_READ = 0100644;

    private final ZipArchiveOutputStream zip;
    private final String top;

    ZipSink(OutputStream out, String top) {
        this.zip = new ZipArchiveOutputStream(out);
        this.top = top;
    }

    @Override
    public void file(String path, long octets, InputStream content) throws IOException {
        Path deflated = Files.createTempFile("shiftstand-", ".deflated");
        Deflater deflater = new Deflater(Deflater.DEFAULT_COMPRESSION, true);
        try {
            CheckedInputStream checked = new CheckedInputStream(content, new CRC32());
            try (OutputStream out = new DeflaterOutputStream(Files.newOutputStream(deflated), deflater, 1 << 16)) {
                checked.transferTo(out);
            }
            try (InputStream in = Files.newInputStream(deflated)) {
                deflated(path, octets, checked.getChecksum().getValue(), Files.size(deflated), in);
            }
        } finally {
            deflater.end();
            Files.deleteIfExists(deflated);
        }
    }

    /** Writes one file that is deflated already. */
    void deflated(String path, long octets, long crc, long packed, InputStream content) throws IOException {
        ZipArchiveEntry entry = new ZipArchiveEntry(top + "/" + path);
        entry.setMethod(ZipEntry.DEFLATED);
        entry.setSize(octets);
        entry.setCompressedSize(packed);
        entry.setCrc(crc);
        // a ZIP has the time of a clock on the wall, without its zone
        entry.setTimeLocal(LocalDateTime.ofInstant(TarSink.WRITTEN, ZoneOffset.UTC));
        entry.setUnixMode(PLAIN_FILE_FOR_ALL_TO_READ);
        zip.addRawArchiveEntry(entry, content);
    }

    @Override
    public void close() throws IOException {
        zip.close();
    }
}
