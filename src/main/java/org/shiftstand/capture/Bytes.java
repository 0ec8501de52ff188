package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;
import org.shiftstand.document.BadInput;

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
    /** Next byte to read. */
    int position;
    /** One behind the last byte held. */
    int limit;
    /** Line of {@link #position}, 1-based. */
    long line = 1;

    private final InputStream in;
    private final CsvProblems problems;
    private boolean ended;

    Bytes(InputStream in, CsvProblems problems) {
        this.in = in;
        this.problems = problems;
    }

    /** Makes sure that a line from {@link #position} on is in the buffer; false at the end of the stream. */
    boolean hasLine() throws IOException {
        if (limit - position < MAX_LINE && !ended) {
            fill();
        }
        return position < limit;
    }

    private void fill() throws IOException {
        System.arraycopy(buffer, position, buffer, 0, limit - position);
        limit -= position;
        position = 0;
        while (limit < MAX_LINE && !ended) {
            int n = in.read(buffer, limit, SIZE - limit);
            ended = n < 0;
            limit += Math.max(0, n);
        }
        buffer[limit] = '\n';
    }

    /** Whether {@code p} stands behind the last byte of the stream. */
    boolean isEnd(int p) {
        return p >= limit && ended;
    }

    /** Goes behind the line break at {@code p}, or to the end. */
    void nextLine(int p) {
        if (p >= limit && !ended) {
            throw tooLong();
        }
        boolean pair = buffer[p] == '\r' && buffer[p + 1] == '\n';
        position = Math.min(p + (pair ? 2 : 1), limit);
        line++;
    }

    /** Leaves everything from {@link #position} on unread. */
    void stop() {
        position = limit;
    }

    private BadInput tooLong() {
        refuseNul(position);
        return problems.fatal(
                line,
                1,
                "the line is longer than " + MAX_LINE + " bytes; expected one sample a line. Is this a CSV capture?");
    }

    /** Stops reading where a NUL byte stands at or behind {@code from}. */
    void refuseNul(int from) {
        for (int p = from; p < limit; p++) {
            if (buffer[p] == 0) {
                throw nul(p);
            }
        }
    }

    BadInput nul(int p) {
        return problems.fatal(
                line,
                p - position + 1,
                "a NUL byte; expected text in UTF-8. Nothing was measured. Cut the file before this line, or check how it"
                        + " was copied.");
    }
}
