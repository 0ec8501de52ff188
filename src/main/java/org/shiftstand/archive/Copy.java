package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** Moves bytes and takes their digest, by blocks large enough for disk and SHA-256 to run at their own speed. */
final class Copy {
    private static final int BLOCK = 1 << 17;

    private Copy() {}

    static void all(InputStream in, OutputStream out) throws IOException {
        var block = new byte[BLOCK];
        for (int n = in.read(block); n >= 0; n = in.read(block)) {
            out.write(block, 0, n);
        }
    }

    /** FIPS 180-4. */
    static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /** Lower-case hex. */
    static String sha256(byte[] bytes) {
        return HexFormat.of().formatHex(sha256().digest(bytes));
    }
}
