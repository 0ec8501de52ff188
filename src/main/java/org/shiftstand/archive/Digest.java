package org.shiftstand.archive;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;

/** SHA-256, FIPS 180-4. */
public final class Digest {
    private static final int BUFFER = 1 << 16;

    private Digest() {}

    /** Lower-case hex of the digest of bytes. */
    public static String hex(byte[] bytes) {
        return HexFormat.of().formatHex(sha256().digest(bytes));
    }

    static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    /** Copies to the end; lower-case hex of what was copied. */
    static String copy(InputStream in, OutputStream out) throws IOException {
        MessageDigest digest = sha256();
        byte[] buffer = new byte[BUFFER];
        for (int n = in.read(buffer); n >= 0; n = in.read(buffer)) {
            digest.update(buffer, 0, n);
            out.write(buffer, 0, n);
        }
        return HexFormat.of().formatHex(digest.digest());
    }
}
