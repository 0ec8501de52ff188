package org.shiftstand.planning;

import org.shiftstand.stats.ConfidenceLimits;

/**
 * How often something happened in independent repetitions.
 *
 * @param hits 0…trials
 * @param trials above 0
 */
public record Chance(int hits, int trials) {
    private static final double EACH_SIDE = 0.975; // two-sided 95 %

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
        return ConfidenceLimits.wilson(hits, trials, EACH_SIDE).low();
    }

    /** Upper end of it. */
    public double high() {
        return ConfidenceLimits.wilson(hits, trials, EACH_SIDE).high();
    }
}
