package org.shiftstand.planning;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ChanceTest {
    /** Newcombe 1998, Table I, method 3: the score interval without continuity correction, four printed digits. */
    @ParameterizedTest
    @CsvSource({"81, 263, 0.2553, 0.3662", "15, 148, 0.0624, 0.1605", "0, 20, 0.0000, 0.1611", "1, 29, 0.0061, 0.1718"})
    void the_interval_is_the_published_score_interval(int hits, int trials, double low, double high) {
        var chance = new Chance(hits, trials);

        assertThat(chance.low()).isCloseTo(low, within(0.00005));
        assertThat(chance.high()).isCloseTo(high, within(0.00005));
    }
}
