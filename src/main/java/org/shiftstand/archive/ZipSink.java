package org.shiftstand.archive;

import java.io.IOException;
import java.io.OutputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.zip.CRC32;
import java.util.zip.CheckedOutputStream;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;

/** Writes a {@code .zip} with nothing in it that the content does not decide. */
final class ZipSink implements Sink {
    private final String top;
    private final OutputStream file;
    private final Deflater deflater = new Deflater(Deflater.DEFAULT_COMPRESSION, true);
    private final List<ZipRecords.Entry> entries = new ArrayList<>();
    private long written;

    ZipSink(OutputStream file, String top) {
        this.top = top;
        this.file = file;
    }

    @Override
    public void put(Member member) throws IOException {
        String name = top + "/" + member.path();
        long offset = written;
        write(ZipRecords.local(name, member.large()));
        deflater.reset();
        var crc = new CRC32();
        var deflated = new DeflaterOutputStream(file, deflater, 1 << 16);
        Copy.all(member.content(), new CheckedOutputStream(deflated, crc));
        deflated.finish();
        long compressed = deflater.getBytesWritten();
        written += compressed;
        var entry =
                new ZipRecords.Entry(name, member.large(), crc.getValue(), compressed, deflater.getBytesRead(), offset);
        write(ZipRecords.descriptor(entry));
        entries.add(entry);
    }

    @Override
    public void finish() throws IOException {
        long offset = written;
        for (ZipRecords.Entry entry : entries) {
            write(ZipRecords.central(entry));
        }
        write(ZipRecords.end(entries.size(), written - offset, offset));
    }

    private void write(byte[] record) throws IOException {
        file.write(record);
        written += record.length;
    }

    @Override
    public void close() throws IOException {
        deflater.end();
        file.close();
    }
}
