package org.shiftstand.shift;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The run kept sample by sample is the one found by walking back from each sample. */
class SlidingRangeTest {
    private static final double BAND = 20;

    @ParameterizedTest
    @ValueSource(doubles = {0.05, 1, 8, 30})
    void is_the_longest_run_within_the_band(double step) {
        for (long seed = 0; seed < 30; seed++) {
            Random random = new Random(seed);
            double[] deg = new double[3000];
            for (int i = 1; i < deg.length; i++) {
                deg[i] = deg[i - 1] + step * (random.nextGaussian() + (i / 700 % 2 == 0 ? 0.5 : -0.5));
            }
            SlidingRange run = new SlidingRange();
            run.start(0, deg[0]);
            for (int i = 1; i < deg.length; i++) {
                if (!run.takes(deg[i], BAND)) {
                    run.shorten(deg, i, BAND);
                }
                assertRun(run, deg, i, "seed " + seed + " sample " + i);
                if (random.nextInt(400) == 0) {
                    dropOldest(run, deg, i, run.first() + (i - run.first()) / 3);
                }
            }
        }
    }

    /** What the rest finder does where it gives up the oldest samples by itself. */
    private static void dropOldest(SlidingRange run, double[] deg, int i, int first) {
        double min = deg[first];
        double max = min;
        for (int k = first; k <= i; k++) {
            min = Math.min(min, deg[k]);
            max = Math.max(max, deg[k]);
        }
        run.set(first, min, max);
    }

    private static void assertRun(SlidingRange run, double[] deg, int i, String what) {
        double min = deg[i];
        double max = min;
        for (int k = run.first(); k <= i; k++) {
            min = Math.min(min, deg[k]);
            max = Math.max(max, deg[k]);
        }
        assertThat(run.min()).as(what).isEqualTo(min);
        assertThat(run.max()).as(what).isEqualTo(max);
        assertThat(max - min).as(what).isLessThanOrEqualTo(BAND);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4})
    void drops_no_more_than_the_band_asks_for(long seed) {
        Random random = new Random(seed);
        double[] deg = new double[2000];
        for (int i = 1; i < deg.length; i++) {
            deg[i] = deg[i - 1] + random.nextGaussian() * 3;
        }
        SlidingRange run = new SlidingRange();
        run.start(0, deg[0]);
        for (int i = 1; i < deg.length; i++) {
            if (!run.takes(deg[i], BAND)) {
                run.shorten(deg, i, BAND);
            }
            if (run.first() > 0) {
                double before = deg[run.first() - 1];
                assertThat(Math.max(before, run.max()) - Math.min(before, run.min()))
                        .as("seed %d sample %d", seed, i)
                        .isGreaterThan(BAND);
            }
        }
    }
}
