package org.shiftstand.planning;

/**
 * How often something happened in independent repetitions.
 *
 * @param hits 0…trials
 * @param trials above 0
 */
public record Chance(int hits, int trials) {
    private static final double Z95 = 1.959963984540054; // two-sided 95 % of the normal distribution

    public Chance {
        if (trials <= 0 || hits < 0 || hits > trials) {
            throw new IllegalArgumentException("hits lie in 0…trials: hits=" + hits + ", trials=" + trials);
        }
    }

    /** Hits over trials. */
    public double share() {
        return (double) hits / trials;
    }

    /** Lower end of the 95 % score interval (Wilson 1927), without continuity correction. */
    public double low() {
        return hits == 0 ? 0 : centre() - halfWidth();
    }

    /** Upper end of it. */
    public double high() {
        return hits == trials ? 1 : centre() + halfWidth();
    }

    private double centre() {
        return (hits + Z95 * Z95 / 2) / (trials + Z95 * Z95);
    }

    private double halfWidth() {
        double p = share();
        double n = trials;
        return Z95 / (n + Z95 * Z95) * Math.sqrt(n * p * (1 - p) + Z95 * Z95 / 4);
    }
}
