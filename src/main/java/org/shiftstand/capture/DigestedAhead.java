package org.shiftstand.capture;

import java.io.IOException;
import java.io.InputStream;
import java.security.MessageDigest;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import org.jspecify.annotations.Nullable;

/**
 * A stream that a second thread reads ahead and digests, so that the caller's thread only parses.
 *
 * <p>A ring of {@value #CHUNKS} chunks; reads wait for the next one. The digest is complete, and the caller's to use, once a
 * read has told the end. For one thread of callers; closing waits for the other thread and closes the stream.
 */
final class DigestedAhead extends InputStream {
    private static final int CHUNKS = 4;
    private static final int CHUNK_BYTES = 1 << 18;

    private final InputStream in;
    private final MessageDigest digest;
    private final BlockingQueue<byte[]> empty = new ArrayBlockingQueue<>(CHUNKS);
    /** One place more than chunks, for the end. */
    private final BlockingQueue<Chunk> filled = new ArrayBlockingQueue<>(CHUNKS + 1);

    private final Thread ahead = new Thread(this::fill, "capture digest");
    private volatile boolean closed;
    private Chunk now = new Chunk(new byte[0], 0, null);
    private int position;
    private boolean interrupted;

    /** Bytes read; none at the end, or where reading failed. */
    private static final class Chunk {
        private final byte[] bytes;
        private final int length;
        private final @Nullable Throwable failure;

        private Chunk(byte[] bytes, int length, @Nullable Throwable failure) {
            this.bytes = bytes;
            this.length = length;
            this.failure = failure;
        }
    }

    DigestedAhead(InputStream in, MessageDigest digest) {
        this.in = in;
        this.digest = digest;
        for (int i = 0; i < CHUNKS; i++) {
            empty.add(new byte[CHUNK_BYTES]);
        }
        ahead.setDaemon(true);
        ahead.start();
    }

    private void fill() {
        Throwable failure = null;
        try {
            boolean ended = false;
            while (!ended && !closed) {
                byte[] bytes = empty.take();
                int n = closed ? -1 : in.read(bytes);
                ended = n < 0;
                if (!ended) {
                    digest.update(bytes, 0, n);
                    filled.add(new Chunk(bytes, n, null));
                }
            }
        } catch (InterruptedException e) {
            failure = new IllegalStateException("only its owner knows this thread, and never interrupts it", e);
        } catch (IOException | RuntimeException | Error e) {
            failure = e;
        }
        filled.add(new Chunk(new byte[0], -1, failure));
    }

    @Override
    public int read() throws IOException {
        return more() ? now.bytes[position++] & 0xff : -1;
    }

    @Override
    public int read(byte[] to, int offset, int length) throws IOException {
        if (length == 0) {
            return 0;
        }
        if (!more()) {
            return -1;
        }
        int n = Math.min(length, now.length - position);
        System.arraycopy(now.bytes, position, to, offset, n);
        position += n;
        return n;
    }

    /** Whether a byte is left; waits for the next chunk where this one is used up. */
    private boolean more() throws IOException {
        while (position >= now.length && now.length >= 0) {
            if (now.bytes.length > 0) {
                empty.add(now.bytes);
            }
            now = next();
            position = 0;
        }
        Throwable failure = now.failure;
        if (failure instanceof IOException e) {
            throw new IOException(e.getMessage(), e);
        }
        if (failure != null) {
            throw new IllegalStateException("reading ahead failed", failure);
        }
        return now.length >= 0;
    }

    private Chunk next() {
        while (true) {
            try {
                return filled.take();
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
    }

    @Override
    public void close() throws IOException {
        closed = true;
        while (ahead.isAlive()) {
            empty.offer(new byte[CHUNK_BYTES]); // it may wait for one, to see that it is to stop
            filled.poll();
            try {
                ahead.join(1);
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
        in.close();
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
