package org.shiftstand.archive;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Arrays;

/**
 * Takes what a container would have been written as, and holds it against what it is: so that headers, times, modes and padding are
 * protected as well, which no manifest covers.
 *
 * <p>Bytes seen wait here until the same place is written; the reader must be ahead of the writer.
 */
final class Expected extends OutputStream {
    private byte[] seen = new byte[1 << 17];
    private int from;
    private int to;
    private boolean same = true;

    /** The same stream; what is read from it counts as seen. */
    InputStream watching(InputStream in) {
        return new FilterInputStream(in) {
            @Override
            public int read() throws IOException {
                byte[] one = new byte[1];
                return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
            }

            @Override
            public int read(byte[] b, int off, int len) throws IOException {
                int n = super.read(b, off, len);
                if (n > 0) {
                    see(b, off, n);
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
        };
    }

    private void see(byte[] b, int off, int len) {
        if (!same) {
            return;
        }
        if (to + len > seen.length) {
            byte[] room = to - from + len > seen.length ? new byte[2 * (to - from + len)] : seen;
            System.arraycopy(seen, from, room, 0, to - from);
            to -= from;
            from = 0;
            seen = room;
        }
        System.arraycopy(b, off, seen, to, len);
        to += len;
    }

    @Override
    public void write(int b) {
        write(new byte[] {(byte) b}, 0, 1);
    }

    @Override
    public void write(byte[] b, int off, int len) {
        same &= to - from >= len && Arrays.equals(b, off, off + len, seen, from, from + len);
        if (same) {
            from += len;
        }
    }

    /** Whether both were the same to the end; ask after everything was read and written. */
    boolean same() {
        return same && from == to;
    }
}
