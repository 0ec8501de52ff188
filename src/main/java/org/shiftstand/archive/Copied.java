package org.shiftstand.archive;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;

/** A stream whose bytes, as they are read, also go to another; closing it closes neither. */
final class Copied extends FilterInputStream {
    private final OutputStream copy;

    Copied(InputStream in, OutputStream copy) {
        super(in);
        this.copy = copy;
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] b, int off, int len) throws IOException {
        int n = in.read(b, off, len);
        if (n > 0) {
            copy.write(b, off, n);
        }
        return n;
    }

    @Override
    public long skip(long n) throws IOException {
        return Math.max(0, read(new byte[(int) Math.min(n, 1 << 13)]));
    }

    @Override
    public boolean markSupported() {
        return false;
    }

    @Override
    public void close() {
        // whoever opened the stream closes it
    }
}
