package org.shiftstand.archive;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.util.zip.CRC32;
import java.util.zip.CheckedOutputStream;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import org.apache.commons.compress.archivers.tar.TarArchiveOutputStream;

/** Writes a {@code .tar.gz} with nothing in it that the content does not decide. */
final class TarGzSink implements Sink {
    private final String top;
    private final OutputStream file;
    private final Deflater deflater = new Deflater(Deflater.DEFAULT_COMPRESSION, true);
    private final DeflaterOutputStream deflated;
    private final CheckedOutputStream checked;
    private final TarArchiveOutputStream tar;

    TarGzSink(OutputStream file, String top) throws IOException {
        this.top = top;
        this.file = file;
        file.write(GzipFrame.header());
        deflated = new DeflaterOutputStream(new BufferedOutputStream(file, 1 << 16), deflater, 1 << 16);
        checked = new CheckedOutputStream(deflated, new CRC32());
        tar = TarHeader.stream(checked);
    }

    @Override
    public void put(Member member) throws IOException {
        tar.putArchiveEntry(TarHeader.entry(top + "/" + member.path(), member.octets()));
        Copy.all(member.content(), tar);
        tar.closeArchiveEntry();
    }

    @Override
    public void finish() throws IOException {
        tar.finish();
        tar.flush();
        deflated.finish();
        deflated.flush();
        file.write(GzipFrame.trailer(checked.getChecksum().getValue(), deflater.getBytesRead()));
    }

    @Override
    public void close() throws IOException {
        deflater.end();
        file.close();
    }
}
