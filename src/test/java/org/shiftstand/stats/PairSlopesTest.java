package org.shiftstand.stats;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Arrays;
import java.util.SplittableRandom;
import java.util.function.BiPredicate;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Beyond the listed points a slope is found without listing all pairs: it must be the one that sorting all of them gives. */
class PairSlopesTest {
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8})
    void any_rank_of_noisy_points_is_what_sorting_all_pairs_gives(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        int n = PairSlopes.LISTED + 1 + random.nextInt(700);
        double lean = random.nextDouble(-3, 3);

        holds(seed, IntStream.range(0, n).asDoubleStream().toArray(), i -> lean * i + random.nextDouble(-20, 20));
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4})
    void alike_abscissas_and_alike_points_have_no_slope(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] x = random.ints(1300, 0, 90).asDoubleStream().toArray();

        holds(seed, x, i -> Math.rint(random.nextDouble(0, 6)));
    }

    @Test
    void points_far_off_the_others_do_not_mislead_the_search() {
        SplittableRandom random = new SplittableRandom(3);

        holds(3, random.doubles(1500, 0, 1e-3).toArray(), i -> i % 7 == 0 ? 1e9 * random.nextDouble() : i % 3);
    }

    @Test
    void many_equal_slopes_beyond_what_is_listed_are_one_number() {
        double[] x = IntStream.range(0, 1600).asDoubleStream().toArray();

        PairSlopes slopes = new PairSlopes(x, Arrays.stream(x).map(at -> 2 * at).toArray());

        assertThat(slopes.median()).isEqualTo(2);
        assertThat(slopes.at(1)).isEqualTo(2);
        assertThat(slopes.at(slopes.count())).isEqualTo(2);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3})
    void values_that_repeat_have_level_slopes_that_are_exactly_level(int seed) {
        SplittableRandom random = new SplittableRandom(seed);
        double[] few = random.doubles(6, 99, 101).toArray();
        double[] x = IntStream.range(0, 2000).asDoubleStream().toArray();
        double[] y = Arrays.stream(x).map(at -> few[(int) at % few.length]).toArray();

        PairSlopes slopes = new PairSlopes(x, y);

        long falling = pairs(y, (before, after) -> before > after);
        long level = pairs(y, Double::equals);
        assertThat(slopes.at(falling)).isNegative();
        assertThat(slopes.at(falling + 1)).isZero();
        assertThat(slopes.at(falling + level)).isZero();
        assertThat(slopes.at(falling + level + 1)).isPositive();
        assertThat(SlopesBetween.list(x, y, -1e-18, 1e-18))
                .as("pairs that no slope parts")
                .isEmpty();
    }

    private static long pairs(double[] y, BiPredicate<Double, Double> wanted) {
        return IntStream.range(0, y.length)
                .mapToLong(i -> IntStream.range(i + 1, y.length)
                        .filter(j -> wanted.test(y[i], y[j]))
                        .count())
                .sum();
    }

    private static void holds(int seed, double[] x, IntToDoubleFunction ordinate) {
        double[] y = IntStream.range(0, x.length).mapToDouble(ordinate).toArray();
        double[] sorted = IntStream.range(0, x.length)
                .mapToObj(i ->
                        IntStream.range(0, i).filter(j -> x[i] != x[j]).mapToDouble(j -> (y[i] - y[j]) / (x[i] - x[j])))
                .flatMapToDouble(slopesOfOne -> slopesOfOne)
                .sorted()
                .toArray();

        PairSlopes slopes = new PairSlopes(x, y);

        assertThat(slopes.count()).isEqualTo(sorted.length);
        SplittableRandom random = new SplittableRandom(seed);
        for (long rank : ranks(sorted.length, random)) {
            double wanted = sorted[(int) rank - 1];
            assertThat(slopes.at(rank))
                    .as("seed %d, rank %d", seed, rank)
                    .isCloseTo(wanted, within(1e-11 * Math.max(1, Math.abs(wanted))));
        }
    }

    /** The ends, the middle, a third, and some in between. */
    private static long[] ranks(long count, SplittableRandom random) {
        return LongStream.concat(
                        LongStream.of(1, 2, count / 3, count / 2, count / 2 + 1, count - 1, count),
                        random.longs(12, 1, count + 1))
                .toArray();
    }
}
