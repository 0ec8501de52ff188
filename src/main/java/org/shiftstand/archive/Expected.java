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
 * <p>Bytes of whichever side is ahead wait here until the other one comes to the same place; both must go on together.
 */
final class Expected extends OutputStream {
    private byte[] ahead = new byte[1 << 17];
    private int from;
    private int to;
    private boolean readerIsAhead;
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
                    take(b, off, n, true);
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

    private void take(byte[] b, int off, int len, boolean read) {
        int waiting = readerIsAhead == read ? 0 : Math.min(len, to - from);
        same &= Arrays.equals(b, off, off + waiting, ahead, from, from + waiting);
        from += waiting;
        if (same && waiting < len) {
            readerIsAhead = read;
            keep(b, off + waiting, len - waiting);
        }
    }

    private void keep(byte[] b, int off, int len) {
        if (to + len > ahead.length) {
            byte[] room = to - from + len > ahead.length ? new byte[2 * (to - from + len)] : ahead;
            System.arraycopy(ahead, from, room, 0, to - from);
            to -= from;
            from = 0;
            ahead = room;
        }
        System.arraycopy(b, off, ahead, to, len);
        to += len;
    }

    @Override
    public void write(int b) {
        write(new byte[] {(byte) b}, 0, 1);
    }

    @Override
    public void write(byte[] b, int off, int len) {
        take(b, off, len, false);
    }

    /** Whether both were the same to the end; ask after everything was read and written. */
    boolean same() {
        return same && from == to;
    }
}
