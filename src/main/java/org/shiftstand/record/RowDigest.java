package org.shiftstand.record;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import org.jspecify.annotations.Nullable;

/**
 * SHA-256 (FIPS 180-4) over rows, independent of how SQLite lays them out in the file and its {@code -wal}.
 *
 * <pre>
 * each table, in the order of RECORD.md:   'T' length int64 BE, name in UTF-8
 *   each row, by its key:                  'R'
 *     each column, as declared:            'i' int64 BE | 'r' IEEE 754 binary64 BE
 *                                          't' length int64 BE, UTF-8 | 'b' length int64 BE, bytes
 * </pre>
 *
 * <p>Of a long record a second thread hashes what the first has read: each takes about as long as the other. Used by one
 * thread; to be closed.
 */
final class RowDigest implements AutoCloseable {
    private static final int PIECE_BYTES = 1 << 16;
    private static final int PIECES = 8;
    private static final ByteBuffer END = ByteBuffer.allocate(0);

    private final MessageDigest sha = sha256();
    private ByteBuffer piece = ByteBuffer.allocate(PIECE_BYTES); // big-endian
    private @Nullable Hashing hashing;

    void table(String name) {
        tagged('T', name.getBytes(StandardCharsets.UTF_8));
    }

    void row() {
        room(1).put((byte) 'R');
    }

    void integer(long value) {
        room(1 + Long.BYTES).put((byte) 'i').putLong(value);
    }

    void real(double value) {
        room(1 + Long.BYTES).put((byte) 'r').putLong(Double.doubleToLongBits(value));
    }

    void text(String value) {
        tagged('t', value.getBytes(StandardCharsets.UTF_8));
    }

    void blob(byte[] value) {
        tagged('b', value);
    }

    /** Lower-case hex of everything so far. Nothing may be added after it. */
    String hex() {
        Hashing other = hashing;
        if (other != null) {
            other.end();
            hashing = null;
        }
        sha.update(piece.flip());
        return HexFormat.of().formatHex(sha.digest());
    }

    /** Digest of a text's UTF-8 bytes, lower-case hex. */
    static String of(String text) {
        return HexFormat.of().formatHex(sha256().digest(text.getBytes(StandardCharsets.UTF_8)));
    }

    /** Ends the second thread where reading was broken off. */
    @Override
    public void close() {
        Hashing other = hashing;
        if (other != null) {
            other.end();
            hashing = null;
        }
    }

    private void tagged(char tag, byte[] bytes) {
        room(1 + Long.BYTES).put((byte) tag).putLong(bytes.length);
        for (int at = 0; at < bytes.length; ) {
            ByteBuffer to = room(1);
            int some = Math.min(to.remaining(), bytes.length - at);
            to.put(bytes, at, some);
            at += some;
        }
    }

    /** The piece that is being filled, with room for so many bytes. */
    private ByteBuffer room(int bytes) {
        if (piece.remaining() < bytes) {
            Hashing other = hashing;
            if (other == null) {
                other = new Hashing(sha); // from the second piece on: a short record needs no thread
                hashing = other;
            }
            piece = other.exchange(piece);
        }
        return piece;
    }

    /** The second thread, and the pieces that go there and back. */
    private static final class Hashing {
        private final BlockingQueue<ByteBuffer> full = new ArrayBlockingQueue<>(PIECES + 1);
        private final BlockingQueue<ByteBuffer> empty = new ArrayBlockingQueue<>(PIECES);
        private final Thread thread;

        Hashing(MessageDigest sha) {
            for (int i = 1; i < PIECES; i++) {
                empty.add(ByteBuffer.allocate(PIECE_BYTES));
            }
            thread = new Thread(() -> hash(sha), "record digest");
            thread.setDaemon(true);
            thread.start();
        }

        private void hash(MessageDigest sha) {
            for (ByteBuffer piece = taken(full); piece != END; piece = taken(full)) {
                sha.update(piece.flip());
                piece.clear();
                empty.add(piece);
            }
        }

        ByteBuffer exchange(ByteBuffer piece) {
            full.add(piece);
            return taken(empty);
        }

        /** Waits until everything is hashed; what was done there is seen here after. */
        void end() {
            full.add(END);
            boolean interrupted = false;
            while (true) {
                try {
                    thread.join();
                    break;
                } catch (InterruptedException e) {
                    interrupted = true; // it ends within microseconds
                }
            }
            if (interrupted) {
                Thread.currentThread().interrupt();
            }
        }

        private static ByteBuffer taken(BlockingQueue<ByteBuffer> from) {
            boolean interrupted = false;
            try {
                while (true) {
                    try {
                        return from.take();
                    } catch (InterruptedException e) {
                        interrupted = true; // the other side is always about to give
                    }
                }
            } finally {
                if (interrupted) {
                    Thread.currentThread().interrupt();
                }
            }
        }
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }
}
