package org.shiftstand.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class FixedDecimalsTest {
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6})
    void are_those_of_the_exact_binary_value(int decimals) {
        SplittableRandom random = new SplittableRandom(decimals);
        for (int i = 0; i < 20_000; i++) {
            double value = switch (i % 6) {
                case 0 -> random.nextDouble(-8000, 8000);
                case 1 -> Math.scalb(random.nextDouble(-1, 1), random.nextInt(-60, 80));
                case 2 -> random.nextInt(-1_000_000_000, 1_000_000_000) / 2e4; // hours: near halves of large numbers
                case 3 -> Math.nextAfter(random.nextLong(1L << 40) / 2e6, random.nextBoolean() ? 9 : 1e9);
                case 4 -> random.nextInt(-1_000_000, 1_000_000) / 2e4; // near halves of the fourth decimal
                default -> Math.nextAfter(random.nextInt(-100_000, 100_000) / 2e6, random.nextBoolean() ? 9 : -9);
            };

            assertThat(FixedDecimals.text(value, decimals)).as("%s", value).isEqualTo(exact(value, decimals));
        }
    }

    @Test
    void halves_that_a_double_holds_go_to_the_even_digit() {
        assertThat(FixedDecimals.text(0.125, 2)).isEqualTo("0.12");
        assertThat(FixedDecimals.text(0.375, 2)).isEqualTo("0.38");
        assertThat(FixedDecimals.text(-2.5, 1)).isEqualTo("-2.5");
    }

    @Test
    void nothing_is_a_negative_zero() {
        assertThat(FixedDecimals.text(-0.0, 4)).isEqualTo("0.0000");
        assertThat(FixedDecimals.text(-0.00004, 4)).isEqualTo("0.0000");
    }

    private static String exact(double value, int decimals) {
        return new BigDecimal(value).setScale(decimals, RoundingMode.HALF_EVEN).toPlainString();
    }
}
