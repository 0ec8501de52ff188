package org.shiftstand.faults;

import java.util.Random;

/** Random numbers of a trial. */
final class Moments {
    private Moments() {}

    /** From a seed; the first numbers of {@link Random} itself are nearly the same for neighbouring seeds. */
    static Random of(long seed) {
        Random random = new Random(seed * 0x9E3779B97F4A7C15L); // 2^64 by the golden ratio
        random.nextLong();
        return new Random(random.nextLong());
    }
}
