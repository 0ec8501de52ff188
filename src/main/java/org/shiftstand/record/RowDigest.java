package org.shiftstand.record;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/**
 * SHA-256 (FIPS 180-4) over rows, independent of how SQLite lays them out in the file and its {@code -wal}.
 *
 * <pre>
 * each table, in the order of RECORD.md:   'T' length int64 BE, name in UTF-8
 *   each row, by its key:                  'R'
 *     each column, as declared:            'i' int64 BE | 'r' IEEE 754 binary64 BE
 *                                          't' length int64 BE, UTF-8 | 'b' length int64 BE, bytes
 * </pre>
 */
final class RowDigest {
    private final MessageDigest sha = sha256();
    private final ByteBuffer head = ByteBuffer.allocate(1 + Long.BYTES);

    void table(String name) {
        tagged('T', name.getBytes(StandardCharsets.UTF_8));
    }

    void row() {
        sha.update((byte) 'R');
    }

    void integer(long value) {
        put('i', value);
    }

    void real(double value) {
        put('r', Double.doubleToLongBits(value));
    }

    void text(String value) {
        tagged('t', value.getBytes(StandardCharsets.UTF_8));
    }

    void blob(byte[] value) {
        tagged('b', value);
    }

    /** Lower-case hex. Starts anew. */
    String hex() {
        return HexFormat.of().formatHex(sha.digest());
    }

    /** Digest of a text's UTF-8 bytes, lower-case hex. */
    static String of(String text) {
        return HexFormat.of().formatHex(sha256().digest(text.getBytes(StandardCharsets.UTF_8)));
    }

    private void tagged(char tag, byte[] bytes) {
        put(tag, bytes.length);
        sha.update(bytes);
    }

    private void put(char tag, long value) {
        head.clear();
        head.put((byte) tag).putLong(value);
        sha.update(head.array());
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java platform has SHA-256", e);
        }
    }
}
