package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import tools.jackson.databind.JsonNode;

/** Ellipse of a Hall pair: offset, gain, phase. */
class EllipseTest {
    /**
     * REF-QUAD-01: Heydemann, Applied Optics 20(19):3382-3384, 1981; data computed from the model, noise free. The
     * readings carry nine decimals; through the 145 degree arc that allows 1e-6 of a parameter, over the full turn 1e-8.
     */
    @Nested
    class On_the_reference_data {
        @Test
        void a_full_turn_gives_the_true_parameters() {
            check("quad_full", 1e-8);
        }

        @Test
        void a_partial_arc_gives_the_true_parameters() {
            check("quad_partial", 1e-6);
        }

        private void check(String name, double tolerance) {
            var table = ReferenceTable.csv(name + ".csv");
            JsonNode expected = ReferenceTable.json(name + "_expected.json").get("true_parameters");
            double[] x = table.column("u1");
            double[] y = table.column("u2");
            double[] truth = table.column("true_angle_deg");

            Ellipse fit = Ellipse.fit(x, y, x.length).orElseThrow();

            assertThat(fit.cosOffset()).isCloseTo(expected.get("p").asDouble(), within(tolerance));
            assertThat(fit.sinOffset()).isCloseTo(expected.get("q").asDouble(), within(tolerance));
            assertThat(fit.gainRatio()).isCloseTo(expected.get("r").asDouble(), within(tolerance));
            assertThat(Math.toDegrees(fit.phaseRad()))
                    .isCloseTo(expected.get("alpha_deg").asDouble(), within(60 * tolerance));
            assertThat(fit.radius()).isCloseTo(expected.get("R").asDouble(), within(tolerance));
            for (int i = 0; i < x.length; i++) {
                double error = Math.IEEEremainder(Math.toDegrees(fit.phi(x[i], y[i])) - truth[i], 360);
                assertThat(error)
                        .isCloseTo(0, within(60 * tolerance)); // a parameter error is an angle error in radians
            }
        }
    }

    /** The trap of REF-QUAD-01: with raw unsigned counts the origin lies outside the ellipse and the phase turns sign. */
    @ParameterizedTest
    @ValueSource(doubles = {-12, -4, -0.5, 0.5, 4, 12})
    void the_phase_keeps_its_sign_with_unsigned_counts(double phaseDeg) {
        var pair = HallPair.turning(2048, 2100, 1.1, phaseDeg, 1400);

        Ellipse fit = Ellipse.fit(pair.cos(), pair.sin(), pair.cos().length).orElseThrow();

        assertThat(Math.toDegrees(fit.phaseRad())).isCloseTo(phaseDeg, within(1e-6));
        assertThat(fit.gainRatio()).isCloseTo(1.1, within(1e-8));
        assertThat(fit.cosOffset()).isCloseTo(2048, within(1e-5));
        assertThat(fit.sinOffset()).isCloseTo(2100, within(1e-5));
        assertThat(fit.radius()).isCloseTo(1400, within(1e-5));
    }

    @Test
    void a_channel_that_drops_to_zero_for_a_while_does_not_bend_it() {
        var pair = HallPair.turning(2048, 2100, 1.1, 4, 1400);
        double[] sin = pair.sin().clone();
        for (int i = 100; i < 110; i++) {
            sin[i] = 0;
        }

        Ellipse fit = Ellipse.fit(pair.cos(), sin, sin.length).orElseThrow();

        assertThat(fit.cosOffset()).isCloseTo(2048, within(1e-5));
        assertThat(fit.sinOffset()).isCloseTo(2100, within(1e-5));
        assertThat(Math.toDegrees(fit.phaseRad())).isCloseTo(4, within(1e-6));
    }

    @Test
    void random_parameters_are_found_again() {
        for (int seed = 0; seed < 300; seed++) {
            var random = new Random(seed);
            double p = random.nextDouble() * 4000;
            double q = random.nextDouble() * 4000;
            double r = 0.7 + 0.6 * random.nextDouble();
            double phase = 20 * random.nextDouble() - 10;
            double radius = 200 + 1500 * random.nextDouble();
            var pair = HallPair.turning(p, q, r, phase, radius);

            Ellipse fit = Ellipse.fit(pair.cos(), pair.sin(), pair.cos().length).orElseThrow();

            assertThat(fit.cosOffset()).as("seed %d", seed).isCloseTo(p, within(1e-5));
            assertThat(fit.sinOffset()).as("seed %d", seed).isCloseTo(q, within(1e-5));
            assertThat(fit.gainRatio()).as("seed %d", seed).isCloseTo(r, within(1e-8));
            assertThat(Math.toDegrees(fit.phaseRad())).as("seed %d", seed).isCloseTo(phase, within(1e-6));
            assertThat(fit.radius()).as("seed %d", seed).isCloseTo(radius, within(1e-5));
        }
    }

    @Test
    void points_that_are_no_ellipse_give_none() {
        double[] line = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10};

        assertThat(Ellipse.fit(line, line, 10)).isEmpty();
        assertThat(Ellipse.fit(new double[20], new double[20], 20)).isEmpty();
        assertThat(Ellipse.fit(line, line, 5)).isEmpty();
    }
}
