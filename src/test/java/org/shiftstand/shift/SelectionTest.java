package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The median by selection is the median by sorting, bit for bit. */
class SelectionTest {
    private static double bySorting(double[] x, int from, int to) {
        double[] sorted = Arrays.copyOfRange(x, from, to);
        Arrays.sort(sorted);
        int n = sorted.length;
        return n % 2 == 1 ? sorted[n / 2] : 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 39, 40, 41, 77, 100, 1000, 4001})
    void of_noise_around_an_angle(int n) {
        for (long seed = 0; seed < 50; seed++) {
            Random random = new Random(seed);
            double[] x = random.doubles(n + 7, 811, 813).toArray();

            assertThat(new Selection().median(x, 3, 3 + n)).as("seed %d", seed).isEqualTo(bySorting(x, 3, 3 + n));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {96, 97, 500, 501})
    void of_few_different_values_far_apart(int n) {
        for (long seed = 0; seed < 200; seed++) {
            Random random = new Random(seed);
            double[] few = {-1e9, random.nextDouble(), 5, 5.000001, 1e12};
            double[] x = random.ints(n, 0, few.length).mapToDouble(i -> few[i]).toArray();

            assertThat(new Selection().median(x, 0, n)).as("seed %d", seed).isEqualTo(bySorting(x, 0, n));
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {96, 97, 1000})
    void of_halves_at_two_values(int n) {
        double[] x = new double[n];
        Arrays.fill(x, 0, n / 2, 700);
        Arrays.fill(x, n / 2, n, 720);

        assertThat(new Selection().median(x, 0, n)).isEqualTo(bySorting(x, 0, n));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, -3.25, 1e300})
    void of_one_value_many_times(double value) {
        double[] x = new double[1000];
        Arrays.fill(x, value);

        assertThat(new Selection().median(x, 0, 1000)).isEqualTo(value);
    }

    @ParameterizedTest
    @ValueSource(ints = {200, 201})
    void leaves_the_values_in_their_order(int n) {
        double[] x = new Random(n).doubles(n).toArray();
        double[] before = x.clone();

        new Selection().median(x, 0, n);

        assertThat(x).isEqualTo(before);
    }
}
