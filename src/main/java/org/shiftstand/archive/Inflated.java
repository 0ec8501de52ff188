package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.util.zip.CRC32;
import java.util.zip.DataFormatException;
import java.util.zip.Inflater;

/** One raw deflate stream (RFC 1951) within an archive file; ends exactly where the stream does. */
final class Inflated extends InputStream {
    private final ArchiveBytes in;
    private final Budget budget;
    private final Inflater inflater = new Inflater(true);
    private final CRC32 crc = new CRC32();
    private boolean done;
    private long compressed;
    private long octets;

    Inflated(ArchiveBytes in, Budget budget) {
        this.in = in;
        this.budget = budget;
    }

    @Override
    public int read() throws IOException {
        var one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
    }

    @Override
    public int read(byte[] bytes, int from, int count) throws IOException {
        if (count == 0) {
            return 0;
        }
        int n = done ? -1 : inflate(bytes, from, count);
        if (n > 0) {
            octets += n;
            crc.update(bytes, from, n);
            budget.expand(n, in.position());
        }
        return n;
    }

    private int inflate(byte[] bytes, int from, int count) throws IOException {
        try {
            while (true) {
                int n = inflater.inflate(bytes, from, count);
                if (n > 0) {
                    return n;
                }
                if (inflater.finished()) {
                    finish();
                    return -1;
                }
                if (inflater.needsDictionary() || !in.lend(inflater)) {
                    throw Stop.unreadable("ends in the middle of compressed data, at byte " + in.position());
                }
            }
        } catch (DataFormatException e) {
            throw Stop.unreadable(
                    "is damaged before byte " + in.position() + ": what stands there is no compressed data");
        }
    }

    private void finish() {
        in.giveBack(inflater.getRemaining());
        compressed = inflater.getBytesRead();
        done = true;
        inflater.end();
    }

    /** Reads to the end. */
    void drain() throws IOException {
        var waste = new byte[1 << 13];
        while (read(waste, 0, waste.length) >= 0) {
            // only the end matters, and the bytes are counted
        }
    }

    long crc() {
        return crc.getValue();
    }

    long compressedOctets() {
        return compressed;
    }

    long octets() {
        return octets;
    }

    /** Frees what the inflater holds; the archive file stays open. */
    @Override
    public void close() {
        if (!done) {
            done = true;
            inflater.end();
        }
    }
}
