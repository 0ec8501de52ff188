package org.shiftstand.archive;

/**
 * The digest that stands for a whole bag and is what gets signed: SHA-256 of the bytes of {@code tagmanifest-sha256.txt}.
 *
 * @param text {@code sha256:} and 64 lower-case hex digits
 */
public record BagDigest(String text) {
    public BagDigest {
        if (!text.matches("sha256:[0-9a-f]{64}")) {
            throw new IllegalArgumentException("no digest: text=" + text);
        }
    }

    @Override
    public String toString() {
        return text;
    }
}
