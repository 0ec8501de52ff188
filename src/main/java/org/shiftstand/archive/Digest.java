package org.shiftstand.archive;

/** SHA-256, FIPS 180-4. */
public final class Digest {
    private Digest() {}

    /** Lower-case hex of the digest of bytes. */
    public static String hex(byte[] bytes) {
        return Copy.sha256(bytes);
    }
}
