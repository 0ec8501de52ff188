package org.shiftstand.archive;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/** A stream that may not give more than was said, nor more than a bag may unpack to. */
final class Bounded extends FilterInputStream {
    private final long most;
    private final boolean bomb;
    private long count;

    /**
     * Watches a stream.
     *
     * @param said bytes that it is said to give
     * @param packed bytes that it is packed in
     */
    Bounded(InputStream in, long said, long packed, BagLimits limits) {
        super(in);
        long allowed = Math.max(limits.freeOctets(), packed * limits.ratio());
        this.bomb = said > allowed;
        this.most = Math.min(said, allowed);
    }

    long count() {
        return count;
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] b, int off, int len) throws IOException {
        int n = super.read(b, off, len);
        count += Math.max(0, n);
        if (count > most || bomb) {
            throw new Gzip.Bomb("unpacks to more than it says, or to very many times its size");
        }
        return n;
    }

    @Override
    public boolean markSupported() {
        return false;
    }
}
