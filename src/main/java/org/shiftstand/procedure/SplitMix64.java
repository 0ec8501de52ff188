package org.shiftstand.procedure;

/**
 * Random numbers that are the same everywhere.
 *
 * <p>SplitMix64: G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014; the
 * constants are those of its mixing variant 13 (D. Stafford).
 */
final class SplitMix64 {
    private long state;

    SplitMix64(long seed) {
        this.state = seed;
    }

    long next() {
        state += 0x9E3779B97F4A7C15L;
        long z = state;
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }
}
