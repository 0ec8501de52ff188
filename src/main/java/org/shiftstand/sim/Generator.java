package org.shiftstand.sim;

/**
 * Random numbers that are the same on every machine: xoshiro256** (Blackman, Vigna 2018), its state filled by SplitMix64
 * (Steele, Lea, Flood 2014).
 *
 * <p>Streams are addressed: {@link #restart} with the run's seed and up to three numbers (what for, which shift, which
 * window) gives a stream that depends on nothing else, so that a fault in one shift leaves the draws of all others alone.
 */
final class Generator {
    private static final long GOLDEN = 0x9E3779B97F4A7C15L; // SplitMix64's increment
    private static final double TWO_TO_MINUS_53 = 0x1.0p-53;

    private long s0;
    private long s1;
    private long s2;
    private long s3;

    Generator(long seed) {
        restart(seed, 0, 0, 0);
    }

    /** Sets the four words of state, not all 0. */
    void state(long w0, long w1, long w2, long w3) {
        s0 = w0;
        s1 = w1;
        s2 = w2;
        s3 = w3;
    }

    /** Starts the stream of this address over again. */
    void restart(long seed, long purpose, long index, long part) {
        long x = mix(seed + GOLDEN);
        x = mix(x ^ (purpose + 1) * GOLDEN);
        x = mix(x ^ (index + 1) * GOLDEN);
        x = mix(x ^ (part + 1) * GOLDEN);
        s0 = mix(x += GOLDEN);
        s1 = mix(x += GOLDEN);
        s2 = mix(x += GOLDEN);
        s3 = mix(x + GOLDEN);
    }

    private static long mix(long z) { // SplitMix64's output function
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }

    /** 64 random bits. */
    long next() {
        long result = Long.rotateLeft(s1 * 5, 7) * 9;
        long t = s1 << 17;
        s2 ^= s0;
        s3 ^= s1;
        s1 ^= s2;
        s0 ^= s3;
        s2 ^= t;
        s3 = Long.rotateLeft(s3, 45);
        return result;
    }

    /** Uniform in [0, 1): the upper 53 bits. */
    double uniform() {
        return (next() >>> 11) * TWO_TO_MINUS_53;
    }

    double uniform(double low, double high) {
        return low + (high - low) * uniform();
    }

    /** Normal deviate, mean 0, sd 1: polar method (Marsaglia, Bray 1964), first of the pair, the second thrown away. */
    double normal() {
        while (true) {
            double u = 2 * uniform() - 1;
            double v = 2 * uniform() - 1;
            double s = u * u + v * v;
            if (s > 0 && s < 1) {
                return u * StrictMath.sqrt(-2 * StrictMath.log(s) / s);
            }
        }
    }

    /**
     * Converter noise, mean 0, sd 1, in one draw: sum of the four 16-bit fields, centred and scaled. Nearly normal, never
     * beyond 3.47; not for anything whose tails are judged.
     */
    double noise() {
        long bits = next();
        long sum = (bits & 0xFFFF) + (bits >>> 16 & 0xFFFF) + (bits >>> 32 & 0xFFFF) + (bits >>> 48);
        return (sum - 131070) * NOISE_SCALE; // 4 × 65535 / 2
    }

    // variance of one uniform 16-bit number is (65536² − 1)/12; four of them have sd 37837.2274…
    private static final double NOISE_SCALE = 1 / StrictMath.sqrt((65536.0 * 65536.0 - 1) / 3);
}
