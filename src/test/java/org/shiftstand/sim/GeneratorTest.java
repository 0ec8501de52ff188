package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleSupplier;
import org.junit.jupiter.api.Test;

class GeneratorTest {
    private static final int N = 200_000;

    /** First outputs from state 1, 2, 3, 4, as the authors' own C code (xoshiro256starstar.c, public domain) gives them. */
    @Test
    void bits_are_those_of_the_published_generator() {
        Generator g = new Generator(0);
        g.state(1, 2, 3, 4);

        assertThat(g.next()).isEqualTo(11520L);
        assertThat(g.next()).isEqualTo(0L);
        assertThat(g.next()).isEqualTo(1509978240L);
        assertThat(g.next()).isEqualTo(1215971899390074240L);
        assertThat(g.next()).isEqualTo(1216172134540287360L);
    }

    @Test
    void the_same_address_gives_the_same_numbers() {
        Generator a = new Generator(7);
        Generator b = new Generator(8);
        a.restart(3, 1, 2, 0);
        b.restart(3, 1, 2, 0);

        for (int i = 0; i < 100; i++) {
            assertThat(a.next()).isEqualTo(b.next());
        }
    }

    @Test
    void each_part_of_an_address_counts() {
        long first = firstOf(3, 1, 2, 0);

        assertThat(firstOf(4, 1, 2, 0)).isNotEqualTo(first);
        assertThat(firstOf(3, 2, 2, 0)).isNotEqualTo(first);
        assertThat(firstOf(3, 1, 3, 0)).isNotEqualTo(first);
        assertThat(firstOf(3, 1, 2, 1)).isNotEqualTo(first);
        assertThat(firstOf(3, 2, 1, 0)).isNotEqualTo(first); // order counts too
    }

    private static long firstOf(long seed, long purpose, long index, long part) {
        Generator g = new Generator(0);
        g.restart(seed, purpose, index, part);
        return g.next();
    }

    @Test
    void uniform_numbers_have_mean_a_half_and_variance_a_twelfth() {
        Generator g = new Generator(1);

        double[] moments = moments(g::uniform);

        // four standard errors of n = 200 000
        assertThat(moments[0]).isCloseTo(0.5, within(0.0026));
        assertThat(moments[1]).isCloseTo(1 / 12.0, within(0.0007));
    }

    @Test
    void normal_deviates_have_the_moments_of_the_normal_distribution() {
        Generator g = new Generator(1);

        double[] moments = moments(g::normal);

        // four standard errors of n = 200 000: mean 1/√n, variance √(2/n), fourth moment √(96/n)
        assertThat(moments[0]).isCloseTo(0, within(0.009));
        assertThat(moments[1]).isCloseTo(1, within(0.0127));
        assertThat(moments[2]).isCloseTo(3, within(0.088));
    }

    @Test
    void converter_noise_has_unit_spread_and_no_far_tails() {
        Generator g = new Generator(1);

        double[] moments = moments(g::noise);

        assertThat(moments[0]).isCloseTo(0, within(0.009));
        assertThat(moments[1]).isCloseTo(1, within(0.0127));
        assertThat(moments[3]).isLessThan(3.47); // four uniform numbers: 2·√3
    }

    /** Mean, variance, kurtosis, largest magnitude. */
    private static double[] moments(DoubleSupplier draw) {
        double[] x = new double[N];
        double mean = 0;
        double largest = 0;
        for (int i = 0; i < N; i++) {
            x[i] = draw.getAsDouble();
            mean += x[i] / N;
            largest = Math.max(largest, Math.abs(x[i]));
        }
        double second = 0;
        double fourth = 0;
        for (double v : x) {
            double d = v - mean;
            second += d * d / N;
            fourth += d * d * d * d / N;
        }
        return new double[] {mean, second, fourth / (second * second), largest};
    }
}
