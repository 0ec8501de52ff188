package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** Two shares, exactly. */
class ExactSharesTest {
    /** Fisher, The Design of Experiments, 1935, chapter 2: of 70 equally likely choices 1 has all right and 16 three of four. */
    @Test
    void the_cups_of_tea() {
        assertThat(new ExactShares(3, 4, 1, 4).pOfNoDifference()).isCloseTo(34.0 / 70, within(1e-12));
        assertThat(new ExactShares(4, 4, 0, 4).pOfNoDifference()).isCloseTo(2.0 / 70, within(1e-12));
    }

    @Test
    void three_missing_of_twenty_four_against_none_are_no_proof_of_a_difference() {
        // by hand: 2 · C(24, 3) / C(48, 3) = 2 · 2024 / 17296
        assertThat(new ExactShares(24, 24, 21, 24).pOfNoDifference()).isCloseTo(2 * 2024.0 / 17296, within(1e-12));
    }

    @Test
    void the_limits_hold_the_true_difference_in_ninety_five_of_a_hundred_or_more() {
        int seed = 21;
        Random random = new Random(seed);
        int trials = 3000;
        int above = 0;
        int below = 0;
        for (int i = 0; i < trials; i++) {
            ConfidenceLimits.Limits limits =
                    new ExactShares(hits(random, 0.95, 40), 40, hits(random, 0.8, 40), 40).limits(0.95);
            above += limits.low() > -0.15 ? 1 : 0;
            below += limits.high() < -0.15 ? 1 : 0;
        }

        assertThat((double) above / trials).as("seed %d", seed).isLessThan(0.05);
        assertThat((double) below / trials).as("seed %d", seed).isLessThan(0.05);
    }

    private static int hits(Random random, double share, int n) {
        int hits = 0;
        for (int i = 0; i < n; i++) {
            hits += random.nextDouble() < share ? 1 : 0;
        }
        return hits;
    }
}
