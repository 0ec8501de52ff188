package org.shiftstand.reference;

/** SHA-256 of messages of other lengths, up to a million characters. */
final class DigestsOfLongMessages implements Published {
    @Override
    public Source source() {
        return new Source("REF-SHA-02", "FIPS 180-4, SHA-256, further lengths", "VERIFIED");
    }

    @Override
    public void compare(Comparisons comparisons) {
        MessageDigests.compare("reference/bag/sha256_more.csv", comparisons);
    }
}
