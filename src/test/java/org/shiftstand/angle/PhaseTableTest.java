package org.shiftstand.angle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import org.junit.jupiter.api.Test;

/** The fast arc tangent against the library's. */
class PhaseTableTest {
    @Test
    void the_arc_tangent_is_that_of_the_library_within_1e_11_degrees() {
        long seed = 3;
        var random = new Random(seed);
        double worst = 0;
        for (int i = 0; i < 1_000_000; i++) {
            double x = random.nextGaussian() * 1400;
            double y = i % 3 == 0 ? x * (1 + 1e-9 * random.nextGaussian()) : random.nextGaussian() * 1400;
            double error = Math.abs(PhaseTable.atan2Deg(y, x) - Math.toDegrees(StrictMath.atan2(y, x)));
            worst = Math.max(worst, error);
        }
        assertThat(worst).as("seed %d", seed).isLessThan(1e-11);
    }

    @Test
    void the_axes_and_the_origin_are_exact() {
        assertThat(PhaseTable.atan2Deg(0, 1)).isEqualTo(0);
        assertThat(PhaseTable.atan2Deg(1, 0)).isEqualTo(90);
        assertThat(PhaseTable.atan2Deg(-1, 0)).isEqualTo(-90);
        assertThat(PhaseTable.atan2Deg(0, -1)).isEqualTo(180);
        assertThat(PhaseTable.atan2Deg(1, 1)).isCloseTo(45, within(1e-14));
        assertThat(PhaseTable.atan2Deg(-1, -1)).isCloseTo(-135, within(1e-13));
        assertThat(PhaseTable.atan2Deg(0, 0)).isEqualTo(0);
    }
}
