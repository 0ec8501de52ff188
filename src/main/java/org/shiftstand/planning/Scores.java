package org.shiftstand.planning;

import org.apache.commons.math3.special.Erf;

/** What chance deals to each shift of one repetition. */
interface Scores {
    /** Nothing scatters. */
    Scores STILL = new Scores() {
        @Override
        public double normal(int shift, int cycle, int source) {
            return 0;
        }

        @Override
        public double uniform(int shift, int cycle) {
            return fraction(shift + 1);
        }
    };

    /** An even sample: values lie at the quantiles of their distribution, in an order without a trend. */
    Scores EVEN = new Scores() {
        @Override
        public double normal(int shift, int cycle, int source) {
            return Math.sqrt(2) * Erf.erfInv(2 * fraction(cycle) - 1);
        }

        @Override
        public double uniform(int shift, int cycle) {
            return fraction(shift + 1);
        }
    };

    /**
     * Standard normal, independent between shifts and between sources.
     *
     * @param shift place in the whole plan, from 0
     * @param cycle of that shift, from 1
     * @param source number of what makes it scatter
     */
    double normal(int shift, int cycle, int source);

    /** In 0…1, independent between shifts. */
    double uniform(int shift, int cycle);

    /** Seeded chance: each draw is worked out from its own place, so that leaving shifts out changes no other. */
    static Scores of(long seed, int repetition) {
        long base = mix(mix(seed) + repetition);
        return new Scores() {
            @Override
            public double normal(int shift, int cycle, int source) {
                long place = mix(base + (((long) shift + 1) << 8) + 2L * source + 2);
                double u = (place >>> 11) * 0x1p-53;
                double v = (mix(place) >>> 11) * 0x1p-53;
                // Box and Muller 1958; StrictMath: the same on every machine
                return StrictMath.sqrt(-2 * StrictMath.log(1 - u)) * StrictMath.cos(2 * Math.PI * v);
            }

            @Override
            public double uniform(int shift, int cycle) {
                return (mix(base + (((long) shift + 1) << 8)) >>> 11) * 0x1p-53;
            }
        };
    }

    /** Multiples of the golden section, modulo 1: as even as a sequence can be (Weyl 1916). */
    private static double fraction(int i) {
        double x = i * 0.6180339887498949;
        return x - Math.floor(x);
    }

    /** SplitMix64 (Steele, Lea, Flood 2014). */
    private static long mix(long z) {
        z += 0x9e3779b97f4a7c15L;
        z = (z ^ (z >>> 30)) * 0xbf58476d1ce4e5b9L;
        z = (z ^ (z >>> 27)) * 0x94d049bb133111ebL;
        return z ^ (z >>> 31);
    }
}
