package org.shiftstand.planning;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.stat.correlation.PearsonsCorrelation;
import org.apache.commons.math3.stat.inference.KolmogorovSmirnovTest;
import org.junit.jupiter.api.Test;

class ScoresTest {
    private static final int N = 4000;

    @Test
    void draws_are_standard_normal() {
        double[] draws = draws(Scores.of(3, 0), 4);

        assertThat(new KolmogorovSmirnovTest().kolmogorovSmirnovTest(new NormalDistribution(), draws))
                .as("Kolmogorov and Smirnov, p of %d draws of seed 3", N)
                .isGreaterThan(0.001);
    }

    @Test
    void draws_of_other_sources_and_repetitions_are_independent() {
        double[] draws = draws(Scores.of(3, 0), 4);

        // standard error of a correlation of independent draws: 1/√n
        assertThat(correlation(draws, draws(Scores.of(3, 0), 5))).isCloseTo(0, within(4 / Math.sqrt(N)));
        assertThat(correlation(draws, draws(Scores.of(3, 1), 4))).isCloseTo(0, within(4 / Math.sqrt(N)));
        assertThat(correlation(draws, draws(Scores.of(4, 0), 4))).isCloseTo(0, within(4 / Math.sqrt(N)));
    }

    private static double[] draws(Scores scores, int source) {
        double[] draws = new double[N];
        for (int i = 0; i < N; i++) {
            draws[i] = scores.normal(i, 1, source);
        }
        return draws;
    }

    private static double correlation(double[] x, double[] y) {
        return new PearsonsCorrelation().correlation(x, y);
    }
}
