package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;

/**
 * A window over a stream that always holds a whole line, if lines are at most {@link #MAX_LINE} bytes.
 *
 * <p>Behind the last byte stands a line feed, so that scanning needs no bounds check.
 */
final class Bytes {
    /** A longer line is no capture. */
    static final int MAX_LINE = 1 << 16;

    private static final int SIZE = 1 << 20;

    final byte[] buffer = new byte[SIZE + 1];
    private final InputStream in;
    int position;
    int limit;
    private boolean ended;

    Bytes(InputStream in) {
        this.in = in;
    }

    /** Makes sure that a line from {@link #position} on is in the buffer; false at the end of the stream. */
    boolean line() throws IOException {
        if (limit - position < MAX_LINE && !ended) {
            fill();
        }
        return position < limit;
    }

    private void fill() throws IOException {
        System.arraycopy(buffer, position, buffer, 0, limit - position);
        limit -= position;
        position = 0;
        while (limit < SIZE) {
            int n = in.read(buffer, limit, SIZE - limit);
            if (n < 0) {
                ended = true;
                break;
            }
            limit += n;
            if (limit >= MAX_LINE) {
                break;
            }
        }
        buffer[limit] = '\n';
    }

    /** Whether the byte at {@code p} is the line feed put behind the last byte of the stream. */
    boolean isEnd(int p) {
        return p >= limit && ended;
    }

    /** Whether scanning ran out of the buffer before it met a line break. */
    boolean isTooLong(int p) {
        return p >= limit && !ended;
    }
}
