package org.shiftstand.archive;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;

/** The bytes of an archive file in order. */
final class ArchiveBytes implements Closeable {
    private final InputStream in;
    private final byte[] window = new byte[1 << 17];
    private int at;
    private int end;
    private long read;

    ArchiveBytes(InputStream in) {
        this.in = in;
    }

    /** How many bytes were taken so far. */
    long position() {
        return read - (end - at);
    }

    boolean atEnd() throws IOException {
        return at == end && !fill();
    }

    private boolean fill() throws IOException {
        int n = in.read(window, 0, window.length);
        at = 0;
        end = Math.max(n, 0);
        read += end;
        return n > 0;
    }

    /** The next bytes, fewer where the file ends. */
    byte[] take(int count) throws IOException {
        var bytes = new byte[count];
        int got = 0;
        while (got < count && !atEnd()) {
            int n = Math.min(count - got, end - at);
            System.arraycopy(window, at, bytes, got, n);
            at += n;
            got += n;
        }
        return got == count ? bytes : Arrays.copyOf(bytes, got);
    }

    /** Hands what is in the window to an inflater; false at the end of the file. */
    boolean lend(java.util.zip.Inflater inflater) throws IOException {
        if (atEnd()) {
            return false;
        }
        inflater.setInput(window, at, end - at);
        at = end;
        return true;
    }

    /** Takes back what an inflater did not use of what was lent last. */
    void giveBack(int count) {
        at -= count;
    }

    @Override
    public void close() throws IOException {
        in.close();
    }
}
