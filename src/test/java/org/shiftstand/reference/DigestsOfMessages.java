package org.shiftstand.reference;

/** SHA-256 of short messages. */
final class DigestsOfMessages implements Published {
    @Override
    public Source source() {
        return new Source("REF-SHA-01", "FIPS 180-4, SHA-256, example values published by NIST", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        MessageDigests.compare("reference/bag/sha256.csv", comparisons);
    }
}
